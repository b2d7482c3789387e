"""The store: bodies, cloths and tickets on one SQLite file. Values in, values out; no row leaves."""

from clothwise.store.demo import seed_demo
from clothwise.store.place import default_place
from clothwise.store.store import Store, open_store
from clothwise.store.tickets import KeptTicket

__all__ = ["KeptTicket", "Store", "default_place", "open_store", "seed_demo"]
