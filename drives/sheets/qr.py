"""QR codes (ISO/IEC 18004) for paper."""

import segno


def qr_svg(address: str, *, title: str) -> str:
    """An ``<svg class="code">``, which survives a quarter of it being worn.

    ``title`` is read out instead of it. Four modules of white around it belong to the code: the
    sheet must leave them free.
    """
    code = segno.make(address, error="q", micro=False)
    return code.svg_inline(border=0, omitsize=True, svgclass="code", lineclass=None, title=title)
