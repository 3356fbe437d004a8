"""Where what is usual comes from: a published page, as it is cited, or one of these."""

from enum import StrEnum


class Unpublished(StrEnum):
    """Where nothing is published that could be cited."""

    COMMON = "common-practice"
    RECEIVER = "what-they-are"
    """It follows from the kind of receiver."""


AAP = "AAP 2022, Pediatrics 150(1), e2022057990"
COT_DEATH_TRUST = "Scottish Cot Death Trust"
BABIES = "projectlinusfl.org, projectlinuspgh.org, muoxford.org.uk, burpscharity.org"
LAPS = "justastitchaway.blogspot.com/2008/03/afghan-blanket-sizes.html"
WHEELS = f"{LAPS}, quiltingboard.com"
