"""Grams to a stitch: from weighed squares of this blanket, else a swatch, else the category."""

from collections.abc import Sequence
from math import exp, hypot, pi, sqrt
from statistics import NormalDist, fmean
from typing import NamedTuple

from drives.craft.numbers.outliers import hidden, outliers
from drives.craft.numbers.ranges import Range
from drives.craft.places import Place

from .rests_on import Evidence, RestsOn
from .yarn import CATEGORIES, Category, per_stitch

# From one square to the next of one series of published ones 5 and 9 %, a scale of 1 g included
# (louisetilbrookdesigns.net, How much yarn do you need for a mitered square, 2023).
USUAL_SPREAD = 0.08
WEIGHT = 2  # squares that this guess counts for beside weighed ones
NINETY = NormalDist().inv_cdf(0.95)  # a range that holds with 90 % goes so many sigmas each way


class Weighed(NamedTuple):
    """A finished square on a scale: ``stitches`` worked in it (``rows.worked``) and its grams."""

    place: Place
    stitches: int
    grams: float


class Swatch(NamedTuple):
    """A weighed swatch of ``stitches`` × ``rows``; a ridge is two rows."""

    stitches: int
    rows: int
    grams: float


class PerStitch(NamedTuple):
    """Grams to a stitch as they are known: a mean and its two uncertainties (sigma).

    ``spread``: from one square to the next, where the square's grams are divided by its stitches.
    ``doubt``: of the mean itself. ``degrees``: of freedom of both; None where they are a guess.
    ``left_out``: weighed squares that were left out as outliers.
    """

    mean: float
    spread: float
    doubt: float
    degrees: int | None
    rests_on: RestsOn
    left_out: tuple[Weighed, ...] = ()


def best(
    squares: Sequence[Weighed] = (),
    swatch: Swatch | None = None,
    category: Category | None = None,
    gauge: float | None = None,
    *,
    scale: float = 1.0,
) -> PerStitch | None:
    """The best ground that there is; None without any.

    ``scale``: its steps in grams. ``gauge``, in stitches to 10 cm, goes with ``category``.
    """
    if squares:
        return from_squares(squares, scale)
    if swatch:
        return from_swatch(swatch, scale)
    return from_category(category, gauge) if category and gauge else None


def from_squares(squares: Sequence[Weighed], scale: float = 1.0) -> PerStitch:
    """From at least one weighed square of more than 0 g; outliers are left out and named.

    The spread leans on the usual one until there are enough squares (scaled inverse chi-square
    prior; Gelman and others, Bayesian Data Analysis, 3.3).
    """
    far = outliers(
        [square.grams / square.stitches for square in squares],
        [scale / square.stitches for square in squares],
    )
    odd = tuple(squares[index] for index in far)
    kept = [square for index, square in enumerate(squares) if index not in far]
    places = tuple(square.place for square in odd)
    rests_on = RestsOn(Evidence.BLANKET, len(kept), left_out=places)
    found = _learned([(square.stitches, square.grams) for square in kept], scale, rests_on)
    return found._replace(left_out=odd)


def from_swatch(swatch: Swatch, scale: float = 1.0) -> PerStitch:
    """From one weighed swatch; how far squares differ is then the usual."""
    weighed = [(swatch.stitches * swatch.rows, swatch.grams)]
    return _learned(weighed, scale, RestsOn(Evidence.SWATCHES, 1))


def from_category(category: Category, gauge: float) -> PerStitch:
    """From what is usual for a category alone, a range that is taken to hold with 90 %."""
    usual = per_stitch(category, gauge)
    mean = fmean(usual)
    rests_on = RestsOn(Evidence.CATEGORY, category=category.number)
    return PerStitch(mean, USUAL_SPREAD * mean, (usual.high - mean) / NINETY, None, rests_on)


def likely(stitches: int, gauge: float) -> Range:
    """The grams of so many stitches in yarn of any category: half the least to twice the most.

    ``gauge`` in stitches to 10 cm. What lies beyond is rather mistyped, or in other units.
    """
    usual = [per_stitch(category, gauge).times(stitches) for category in CATEGORIES]
    return Range(min(each.low for each in usual) / 2, max(each.high for each in usual) * 2)


def _learned(weighed: Sequence[tuple[int, float]], scale: float, rests_on: RestsOn) -> PerStitch:
    """From stitches and grams, at least one pair."""
    all_stitches = sum(stitches for stitches, _ in weighed)
    mean = sum(grams for _, grams in weighed) / all_stitches
    step = scale * len(weighed) / all_stitches
    guess = hypot(USUAL_SPREAD * mean, hidden(step))
    degrees = len(weighed) - 1 + WEIGHT
    squares = WEIGHT * guess**2 + sum((grams / each - mean) ** 2 for each, grams in weighed)
    spread = sqrt(squares / degrees)
    doubt = spread * hypot(*(stitches for stitches, _ in weighed)) / all_stitches
    # A scale rounds squares that weigh alike all the same way, however many there are: the
    # largest error of the mean of rounded normal values (Widrow and Kollár, Quantization Noise).
    rounded = step / pi * exp(-2 * (pi * spread / step) ** 2) if step else 0.0
    return PerStitch(mean, spread, hypot(doubt, rounded), degrees, rests_on)
