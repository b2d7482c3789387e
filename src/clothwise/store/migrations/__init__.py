"""How a store of any age is brought to the newest tables: forward only, each in one transaction."""
