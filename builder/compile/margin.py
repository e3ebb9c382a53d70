"""The room between a value and its limit, as a share of the limit in whole per cent."""

from builder.compile.showing import number_text
from builder.words import say

# Beyond this a share says no more than "plenty".
_MOST = 999


def share_text(ratio: float | None) -> str | None:
    """
    Room over limit as `12 %`, negative where the limit is passed; None where there is no share, or no room either way.

    What is in hand is rounded down, what is over or short up.
    """
    if ratio is None or abs(ratio) < 1e-9:
        return None
    share = abs(ratio) * 100
    if share > _MOST:
        return say("margin.beyond", share=_MOST)
    whole = number_text(share, 0, "down" if ratio > 0 else "up")
    return say("margin.beneath") if whole == "0" else say("margin.share", share=whole)


def margin_share(op: str, ratio: float | None) -> str | None:
    """`12 % in hand`, `over by 8 %`, `short by 8 %`; None where there is no share."""
    if ratio is None:
        return None
    share = share_text(ratio)
    if share is None:
        return say("margin.none")
    if ratio > 0:
        return say("margin.in_hand", share=share)
    return say("margin.short" if op in (">=", ">") else "margin.over", share=share)
