"""Which size to cut, and whether she can get into it. Pure; reasons are data, `words` and `told` say them.

ease        least and usual ease by garment and fit class
liking      what one person likes, learned from what she says of finished makes
chart       a pattern's charts completed level by level, with the grade carried on beyond their ends
choosing    one size and blend of least cost
advice      the answer as values; advising makes it; altering says what must change beyond the chart
getting_in  head, shoulders, hips, hand and foot against openings
growth      children: room to grow, and months until it is used up
cloth_need  cloth of another width, for another size or length, by area_law or a lay of lengthened pieces
answering   all of it for one question; told and words say it in sentences
"""
