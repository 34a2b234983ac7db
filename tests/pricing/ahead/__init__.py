"""Tests of the outlook."""
