"""Tests of the outputs."""
