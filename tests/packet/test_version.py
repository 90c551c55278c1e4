"""Packets of other versions of the program."""

import json
import shutil
from pathlib import Path

import pytest

from templategen import __version__
from templategen.packet.proved import proved
from tests.shipped_packets import packet_folder


@pytest.mark.parametrize(("made_by", "age"), [("0.1.0", "an older version"), ("99.1", "another version")])
def test_a_packet_of_another_version_says_so_first_and_what_to_do(made_by: str, age: str, tmp_path: Path) -> None:
    """Its record may have another schema, so that nothing else can be told of it."""
    record = json.loads((packet_folder("towpath-side") / "packet.json").read_text(encoding="utf-8"))
    folder = tmp_path / "packet"
    folder.mkdir()
    (folder / "packet.json").write_text(json.dumps({**record, "templategen": made_by, "of old": 1}), encoding="utf-8")
    told = str(proved(folder).differences[0])
    assert age in told and made_by in told and __version__ in told and "make it anew" in told
    shutil.copy(packet_folder("towpath-side") / "packet.json", folder)
    assert not any("version" in str(one) for one in proved(folder).differences)
