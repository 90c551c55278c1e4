"""Jigs, proved from their written files."""
