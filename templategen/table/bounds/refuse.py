"""The refusal of a table that can't be built: each fault says where, what was found and what would do."""

from templategen.errors import DesignError
from templategen.table.bounds.base import base_bounds
from templategen.table.bounds.bound import faults_of
from templategen.table.bounds.joints import joint_bounds
from templategen.table.bounds.legs import leg_bounds
from templategen.table.bounds.top import rim_bounds, top_bounds
from templategen.table.sizes import Sizes


def refuse_impossible(sizes: Sizes) -> None:
    """Gathers every reason why the table can't be built; without a ring there is nothing else to measure.

    Raises:
        DesignError: with one fault for each.
    """
    faults = tuple(faults_of(rim_bounds(sizes)))
    if not faults:
        bounds = [*top_bounds(sizes), *joint_bounds(sizes), *leg_bounds(sizes), *base_bounds(sizes)]
        faults = tuple(faults_of(bounds))
    if faults:
        raise DesignError(faults)
