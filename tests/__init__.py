"""Tests of Slopewise."""
