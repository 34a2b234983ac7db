"""The price of an ingredient on a date, and what it rests on."""

from pricing.callable_package import answers_with_a_frame

answers_with_a_frame(__name__)
