"""What must be bought: from what makes want, less what is in the haberdashery box.

box     one thing in the box         needs   what a garment wants besides its cloth
cloths  what a worked-out ticket takes of its cloth, and all it wants besides
lists   needs of several makes together, less the box, in the steps that shops sell
words   lists, box and metres in words
metres  how much cloth of any width to buy for a make, with shrinkage, nap, matching, and the price
"""
