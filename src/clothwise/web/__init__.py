"""The page: the whole job in the browser, served from this machine to this machine.

serving    a free port, the browser, a quiet end
app        one Starlette application over one store
guard      who may ask for what: hosts, origins, sizes, the pairing of a phone
sheet      a request's reader (units), templates, addresses of named things
screens    one module a screen: evening, tickets, shaping, laying, printing, working, learning, house ...
jobs       long work in other processes, told as it goes
workers    where those processes come from
"""
