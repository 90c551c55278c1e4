"""Test pieces of a crossing: trenched by the stops told for them they come out as they are drawn."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from shapely.geometry import box

from templategen.fit.plan import plan_assembly
from templategen.jigs.trial_piece import trial_lap
from templategen.packet.shipped import shipped_names
from templategen.parts.part import Part
from templategen.proof.bench import written
from templategen.proof.bench.cuts import WORK
from templategen.proof.bench.piece import BenchPiece
from templategen.shop.set_ups.set_up import Cut, Lay, SetUp
from templategen.work.plan import work_plan
from tests.solids import layer
from tests.table.made import table_of

OWN = re.compile(r"the stop for test pieces, ([0-9.]+) mm long: ([0-9., ]+) mm")
