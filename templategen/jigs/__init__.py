"""Jigs, gauges and routing templates, derived from the table and the maker's tools."""
