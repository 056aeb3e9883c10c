"""Read what a unit took off the shelf, movement by movement."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.materials import MaterialLine, UnitMaterials
from bench.errors import NotFound
from bench.views import unit as reads


def read_unit_materials(desk: Desk, unit_id: int) -> UnitMaterials:
    """The movements whose costs add up to a unit's materials. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        unit = reads.particulars(connection, unit_id)
        if unit is None:
            raise NotFound(f"There is no unit with number {unit_id}.", "It may have been taken back.")
        lines = tuple(MaterialLine(**dict(row)) for row in reads.material_lines(connection, unit_id))
        return UnitMaterials(unit["tag"], unit["currency"], unit["zone"], lines)
