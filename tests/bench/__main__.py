"""``./dev bench [planning|claiming|pages|sheets …]``: print every figure beside its goal."""

import argparse

from . import claiming, pages, planning, sheets

PARTS = {"planning": planning, "claiming": claiming, "pages": pages, "sheets": sheets}


def main() -> None:
    parser = argparse.ArgumentParser(prog="./dev bench", description=__doc__)
    parser.add_argument("parts", nargs="*", choices=[*PARTS, []], help="only these (all)")
    chosen = parser.parse_args().parts or list(PARTS)
    print(f"{'figure (medians)':54} {'ours':>12} {'floor':>12} {'ratio':>8}   goal", flush=True)
    for name in chosen:
        for figure in PARTS[name].figures():
            print(figure, flush=True)


if __name__ == "__main__":
    main()
