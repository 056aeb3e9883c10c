"""How sure a rate is that was counted: its interval, and how many must be seen to claim one.

All by exact sums of the binomial distribution. Counts are whole; shares and confidences lie between 0 and 1.
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp, fsum, lgamma, log, log1p

CONFIDENCE = 0.95  # common practice, no source
MOST_TRIALS = 10_000_000
_STEPS = 200  # halvings; more than a double has bits to tell apart


def tail_at_most(events: int, trials: int, share: float) -> float:
    """The chance of at most so many events among the trials, each of which is one with that share.

    Sum of C(n, i) p^i (1-p)^(n-i) for i from 0 to `events`, in logarithms.
    """
    if events >= trials or share <= 0.0:
        return 1.0
    if events < 0 or share >= 1.0:
        return 0.0
    chance, against = log(share), log1p(-share)
    ways = lgamma(trials + 1)
    return min(
        1.0,
        fsum(
            exp(ways - lgamma(i + 1) - lgamma(trials - i + 1) + i * chance + (trials - i) * against)
            for i in range(events + 1)
        ),
    )


def interval(events: int, trials: int, confidence: float = CONFIDENCE) -> tuple[float, float]:
    """The exact interval of a share, of which so many events were seen among the trials.

    Each end is the share at which what was seen, or more on its side, has half of what the confidence leaves.
    ValueError for counts that cannot be, or a confidence that does not lie between 0 and 1.
    Source: C. J. Clopper, E. S. Pearson, "The use of confidence or fiducial limits illustrated in the case of
    the binomial", Biometrika 26 (1934), 404-413 (from memory; checked against scipy).
    """
    _check(events, trials, confidence)
    if 2 * events > trials:  # the rarer side has the fewer terms
        low, high = interval(trials - events, trials, confidence)
        return 1.0 - high, 1.0 - low
    outside = (1.0 - confidence) / 2.0
    low = 0.0
    if events:
        low = _root(lambda share: 1.0 - tail_at_most(events - 1, trials, share) >= outside)
    high = 1.0 if events == trials else _root(lambda share: tail_at_most(events, trials, share) <= outside)
    return low, high


def trials_to_claim(most: float, *, events: int = 0, confidence: float = CONFIDENCE) -> int:
    """How many must be tried, so many events at most among them, to claim a share below `most`.

    The least n for which at most so many events have no more than what the confidence leaves, where the share
    is `most`. Without an event it is log(1 - confidence) / log(1 - most), of which 3 / most is the rule of
    three. ValueError for a share that does not lie between 0 and 1, or that takes more than MOST_TRIALS.
    Source: J. A. Hanley, A. Lippman-Hand, "If nothing goes wrong, is everything all right?", JAMA 249 (1983),
    1743-1745 (from memory; checked against scipy).
    """
    if not 0.0 < most < 1.0 or not 0.0 < confidence < 1.0 or events < 0:
        raise ValueError("A share and a confidence lie between 0 and 1.")
    left = 1.0 - confidence
    low, high = events, max(events, 1)
    while tail_at_most(events, high, most) > left:
        low, high = high, high * 2
        if high > MOST_TRIALS:
            raise ValueError("That share is too small to be claimed.")
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if tail_at_most(events, middle, most) > left else (low, middle)
    return high


def _root(is_above: Callable[[float], bool]) -> float:
    low, high = 0.0, 1.0
    for _ in range(_STEPS):
        middle = (low + high) / 2.0
        if middle in (low, high):
            break
        low, high = (low, middle) if is_above(middle) else (middle, high)
    return (low + high) / 2.0


def _check(events: int, trials: int, confidence: float) -> None:
    if not 0 <= events <= trials or trials < 1:
        raise ValueError(f"{events} events cannot be among {trials}.")
    if not 0.0 < confidence < 1.0:
        raise ValueError("A confidence lies between 0 and 1.")
