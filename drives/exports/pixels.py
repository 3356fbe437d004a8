"""A program: from an SVG on standard input to a PNG on standard output.

Its arguments are the width in pixels and the folder with the fonts.
"""

import sys

import resvg_py

if __name__ == "__main__":
    width, fonts = sys.argv[1:]
    drawn = resvg_py.svg_to_bytes(
        svg_string=sys.stdin.buffer.read().decode(),
        width=int(width),
        font_dirs=[fonts],
        skip_system_fonts=True,
    )
    sys.stdout.buffer.write(drawn)
