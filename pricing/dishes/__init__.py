"""Recipes and what they cost: one dish in detail, all dishes at once, over months."""

from pricing.callable_package import answers_with_a_frame

answers_with_a_frame(__name__)
