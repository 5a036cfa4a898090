"""Touches the disk: turns the files of a survey folder into values."""
