"""Puts a packet in a folder."""

from pathlib import Path

from templategen.packet.make import Packet
from templategen.packet.several import Packets


def write_packet(packet: Packet | Packets, folder: str | Path) -> Path:
    """Writes every file beside `folder` and swaps it in whole; an earlier packet there is replaced or left as it was.

    Raises:
        OutputError: the folder can't be written, or holds something that is no packet.
    """
    from templategen.output.folder import write_folder

    target = Path(folder)
    write_folder(target, packet.files)
    return target
