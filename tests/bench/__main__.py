"""``./dev bench [planning|planner|forecasting|claiming …]``: print every figure beside its goal."""

import argparse

from . import (
    assignment,
    calibration,
    claiming,
    colouring,
    forecasting,
    memory,
    pages,
    planner,
    planning,
    sheets,
)

PARTS = {
    "planning": planning,
    "planner": planner,
    "forecasting": forecasting,
    "forecast": calibration,
    "colouring": colouring,
    "assignment": assignment,
    "claiming": claiming,
    "pages": pages,
    "sheets": sheets,
    "memory": memory,
}


def main() -> None:
    parser = argparse.ArgumentParser(prog="./dev bench", description=__doc__)
    parser.add_argument("parts", nargs="*", choices=[*PARTS, []], help="only these (all)")
    chosen = parser.parse_args().parts or list(PARTS)
    print(f"{'figure (medians)':60} {'ours':>10} {'floor':>10} {'ratio':>8}   goal", flush=True)
    for name in chosen:
        for figure in PARTS[name].figures():
            print(figure, flush=True)


if __name__ == "__main__":
    main()
