"""The pages' templates (Jinja). Data only."""
