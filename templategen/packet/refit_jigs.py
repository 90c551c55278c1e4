"""The jigs of a re-fit: those that come out otherwise by the measured sizes are made anew, the others are told."""

from dataclasses import dataclass

from templategen.jigs.jig import Jig
from templategen.packet.jigs import JigPlan
from templategen.shop.refit.refit import Refit
from templategen.work.jigs import BY, jigs_of
from templategen.work.plan import WorkPlan


@dataclass(frozen=True, slots=True)
class RefitJigs:
    """`plan` are the jigs made anew; `first` the codes of the first packet's that hold the drawing's sizes and not
    those of parts drawn anew, `still` of those that hold for all that is left to do."""

    plan: JigPlan
    first: tuple[str, ...]
    still: tuple[str, ...]


def refit_jigs(found: Refit, work: WorkPlan) -> RefitJigs:
    """Which of the jigs that the plan of what is left names are made anew.

    A jig that comes out as it was, and yet serves a part drawn anew, stands by sizes of the whole table: no part has
    one of its own there that it could follow. Joints keep their letters: the order of assembly stays.
    """
    done = [one.operation for one in work.operations]
    before = {jig.code: jig for jig in jigs_of(found.drawn, BY, done)[0]}
    own = set(found.rest.new)
    anew, first, still = [], [], []
    for jig in work.jigs.jigs if found.rest.to_cut else ():
        if not _as_before(jig, before.get(jig.code)):
            anew.append(jig)
        elif own.intersection(jig.serves):
            first.append(jig.code)
        else:
            still.append(jig.code)
    return RefitJigs(JigPlan(tuple(anew), ()), tuple(first), tuple(still))


def _as_before(jig: Jig, before: Jig | None) -> bool:
    """Whether pieces, scribes and figures are the first packet's."""
    return before is not None and (jig.revision, _values(jig)) == (before.revision, _values(before))


def _values(jig: Jig) -> list[tuple[float, str]]:
    return [(round(one.value, 6), one.unit) for one in jig.figures]
