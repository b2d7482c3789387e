"""One make: the ticket, what follows from it, and its packet."""

from clothwise.ticket.ticket import Ticket, read_ticket
from clothwise.ticket.writing import write_ticket

__all__ = ["Ticket", "read_ticket", "write_ticket"]
