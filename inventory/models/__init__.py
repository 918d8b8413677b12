"""Tables of what is on the shelves and what happened to it."""

from inventory.models.dyestuffs import Dyestuff
from inventory.models.fibre import ClothMeasured, Dyeing, FibreLot, FibreState, Quality
from inventory.models.jars import Bath, BathState, Dip, Jar, JarEvent
from inventory.models.lots import Lot, LotKind, Standing, Stay, Verdict
from inventory.models.movements import Kind, Loss, Movement, PieceWeighing, Posting
from inventory.models.seals import Seal, Sealed
from inventory.models.studios import Site, Studio, StudioRule, Water
from inventory.models.swatches import Reading, Swatch
from inventory.models.vessels import ColdPlace, Line, Ring, Vessel, VesselUse

__all__ = [
    "Bath",
    "BathState",
    "ClothMeasured",
    "ColdPlace",
    "Dip",
    "Dyeing",
    "Dyestuff",
    "FibreLot",
    "FibreState",
    "Jar",
    "JarEvent",
    "Kind",
    "Line",
    "Loss",
    "Lot",
    "LotKind",
    "Movement",
    "PieceWeighing",
    "Posting",
    "Quality",
    "Reading",
    "Ring",
    "Seal",
    "Sealed",
    "Site",
    "Standing",
    "Stay",
    "Studio",
    "StudioRule",
    "Swatch",
    "Verdict",
    "Vessel",
    "VesselUse",
    "Water",
]
