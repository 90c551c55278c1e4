"""Tests of what a routing machine is given."""
