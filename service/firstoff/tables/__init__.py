"""Answers as tables and lists for people at a terminal."""
