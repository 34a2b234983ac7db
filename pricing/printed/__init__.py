"""Printed figures: checked, recorded, with their evidence."""

from pricing.callable_package import answers_with_a_frame

answers_with_a_frame(__name__)
