"""Tests of the phone's room."""
