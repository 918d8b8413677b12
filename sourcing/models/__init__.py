"""Tables of intentions: where material comes from, what is wanted, who is in."""

from sourcing.models.claims import Claim, ClaimUsed
from sourcing.models.hours import Block, Chore, ChoreDone, Hanging, Hours, Weather
from sourcing.models.kept import KeptPlan, KeptStep, KeptTake, NotBegun, StepDone, StepNotDone
from sourcing.models.orders import (
    Delivery,
    DeliveryLine,
    Offer,
    Order,
    OrderEvent,
    OrderLine,
    Supplier,
)
from sourcing.models.pickups import PickUp
from sourcing.models.put_by import PutByWish
from sourcing.models.recipes import Making, Recipe, RecipeDose, RecipeStep
from sourcing.models.reminders import Reader, ReaderSaid
from sourcing.models.runs import FastnessWish, Run, ShadeCard, Snippet
from sourcing.models.sources import Agreement, Source
from sourcing.models.taken import TakenWeek
from sourcing.models.tubs import TubMove

__all__ = [
    "Agreement",
    "Block",
    "Chore",
    "ChoreDone",
    "Claim",
    "ClaimUsed",
    "Delivery",
    "DeliveryLine",
    "FastnessWish",
    "Hanging",
    "Hours",
    "KeptPlan",
    "KeptStep",
    "KeptTake",
    "Making",
    "NotBegun",
    "Offer",
    "Order",
    "OrderEvent",
    "OrderLine",
    "PickUp",
    "PutByWish",
    "Reader",
    "ReaderSaid",
    "Recipe",
    "RecipeDose",
    "RecipeStep",
    "Run",
    "ShadeCard",
    "Snippet",
    "Source",
    "StepDone",
    "StepNotDone",
    "Supplier",
    "TakenWeek",
    "TubMove",
    "Weather",
]
