"""Drawings: what a sheet shows, before any file format."""
