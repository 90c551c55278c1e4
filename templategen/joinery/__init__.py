"""Joinery: each joint is defined once and yields the features of both its mates."""
