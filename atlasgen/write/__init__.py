"""Touches the disk: writes the edition."""
