"""Tests of reprint rounds."""
