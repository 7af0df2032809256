"""Names of things in a book: distinct types, never bare strings. Each id is unique per type."""

from typing import NewType

JobId = NewType("JobId", str)
SegmentId = NewType("SegmentId", str)
StepId = NewType("StepId", str)
RouteId = NewType("RouteId", str)
PlaceId = NewType("PlaceId", str)
EquipmentId = NewType("EquipmentId", str)
PersonId = NewType("PersonId", str)
SkillId = NewType("SkillId", str)
WindowId = NewType("WindowId", str)
OfferId = NewType("OfferId", str)
OtherWorkId = NewType("OtherWorkId", str)
FactId = NewType("FactId", str)
SupplierId = NewType("SupplierId", str)
MaterialId = NewType("MaterialId", str)
