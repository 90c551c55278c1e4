"""A packet keeps the workshop file that it leaned on, and is proved from itself alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from templategen.packet.make import make_packet
from templategen.packet.proved import proved
from templategen.packet.shipped import shipped_folder
from templategen.packet.write import write_packet
from templategen.table.profile.read import read_profile


def test_a_packet_is_proved_without_the_workshop_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the file it can't be, nor with another one."""
    shop = tmp_path / "shop.toml"
    shop.write_bytes((shipped_folder() / "workshops" / "towpath.toml").read_bytes())
    profile = tmp_path / "weir.toml"
    profile.write_text('format = 1\nshop = "shop.toml"\n[top]\ndiameter = 820\nsegments = 6\n[slats]\ngap = 7\n')
    packet = make_packet(read_profile(profile), ("lists",))
    folder = write_packet(packet, tmp_path / "packet")
    shop.unlink()
    monkeypatch.chdir(folder)
    assert proved(folder).true and b"pins" in packet.files["lists/price.csv"]
    kept = folder / "workshop.toml"
    kept.write_bytes(kept.read_bytes().replace(b"hourly = 34", b"hourly = 35"))
    assert "isn't the profile that the record was made from" in str(proved(folder).differences)
    kept.unlink()
    assert proved(folder).differences
