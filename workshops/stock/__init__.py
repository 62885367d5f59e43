"""The stock's pages: on hand, an item, movements, goods-in, counts, needs and cut lists.

The book itself is inventory's, which knows no guards; here it meets the people of a shop.
Neighbours: season to the left; paper prints what these pages show.
"""
