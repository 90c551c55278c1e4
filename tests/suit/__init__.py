"""Tests of the tables proposed near the one asked."""
