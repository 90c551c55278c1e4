"""Checks: findings measured from the finished parts."""
