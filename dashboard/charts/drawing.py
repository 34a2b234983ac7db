"""A finished chart, which is written as Vega-Lite at a tenth of what Altair takes for its own.

Altair checks a chart against the whole schema of Vega-Lite and copies all of its parts each time it
is written, which takes longer than all that a page has to work out. Here its layers are written one
by one and put together. The tests check every chart that they meet against the schema.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Self

import altair as alt


class Drawing(alt.LayerChart):
    """Layers in one frame; `look` is what stands beside them: height, title, config."""

    def __init__(self, *, layers: Sequence[alt.Chart], look: Mapping[str, Any]) -> None:
        super().__init__(layer=[])
        # Altair keeps fields of its own schema only, unless they are set so
        object.__setattr__(self, "_layers", tuple(layers))
        object.__setattr__(self, "_look", dict(look))

    def properties(self, **more: Any) -> Self:
        """Return the drawing with more of a look."""
        return type(self)(layers=self._layers, look=self._look | more)

    def to_dict(
        self,
        validate: bool = True,
        *,
        format: Any = "vega-lite",
        ignore: list[str] | None = None,
        context: dict[str, Any] | None = None,
    ) -> dict[str, Any]:
        """Return the specification in Vega-Lite. It is not validated: see above."""
        datasets: dict[str, Any] = {}
        below = {
            **(context or {}),
            "datasets": datasets,
            "top_level": False,
            "pre_transform": False,
        }
        layer = [each.to_dict(validate=False, context=below) for each in self._layers]
        theme = alt.theme.get()
        spec: dict[str, Any] = {"layer": layer, **{k: _plain(v) for k, v in self._look.items()}}
        spec["$schema"] = alt.SCHEMA_URL
        if theme is not None:
            spec = dict(alt.utils.update_nested(theme(), spec, copy=True))
        if datasets:
            spec["datasets"] = datasets
        return spec


def _plain(value: Any) -> Any:
    return value.to_dict(validate=False) if isinstance(value, alt.SchemaBase) else value
