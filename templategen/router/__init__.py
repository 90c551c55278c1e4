"""What a routing machine with three axes cuts: bits, operations and clampings of every part."""
