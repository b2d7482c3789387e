"""The lay: pieces placed on cloth so that the least is used, and proved by an independent check.

piece, cloth, layering, placement, problem   what is asked
plan           plans and answers: what is handed out
planning       plan, best_plan, fits, tables of widths: the way in
answers        the longest garment on a cloth; a plan around what is pinned
pins           may this piece lie here?
tricks, dividing   what would save cloth, and what it costs
cutting        how to fold, what to cut when; left_over, stripes: what else the table wants to know
verify, verify_matching   the independent check; every plan has passed it

barriers, matching, layering_choice, crosswise   the rules of the cloth as the search meets them
impossible, crowded   when no lay exists, and why
from_garment, match_points, turned   a garment's pieces and where they meet stripes
moves, tables, search, kernel and the rest   the engine behind planning
"""
