"""Addresses of the stocktake, below the shop's own address."""

from django.urls import URLPattern, path

from workshops.stock.views import count_sheets, stocktake

# A turn has an address of its own, so that a second counter is sent a link to the blind page.
patterns: list[URLPattern] = [
    path("stock/stocktakes/", stocktake.stocktakes, name="stocktakes"),
    path("stock/stocktakes/new/", stocktake.open_stocktake, name="open_stocktake"),
    path("stock/stocktakes/<int:stocktake>/", stocktake.stocktake, name="stocktake"),
    path(
        "stock/stocktakes/<int:stocktake>/close/",
        stocktake.close_stocktake,
        name="close_stocktake",
    ),
    path("stock/stocktakes/<int:stocktake>/late/", stocktake.settle_late, name="settle_late"),
    path("stock/count-sheets/<int:sheet>/", count_sheets.sheet, name="count_sheet"),
    path(
        "stock/count-sheets/<int:sheet>/first/",
        count_sheets.count,
        {"turn": 1},
        name="first_count",
    ),
    path(
        "stock/count-sheets/<int:sheet>/second/",
        count_sheets.count,
        {"turn": 2},
        name="second_count",
    ),
    path(
        "stock/count-sheets/<int:sheet>/third/",
        count_sheets.count,
        {"turn": 3},
        name="third_look",
    ),
    path("stock/count-sheets/<int:sheet>/open-book/", count_sheets.open_book, name="open_book"),
    path("stock/count-sheets/<int:sheet>/alone/", count_sheets.count_alone, name="count_alone"),
    path("stock/count-lines/<int:line>/", count_sheets.clues, name="clues"),
    path("stock/count-lines/<int:line>/doubt/", count_sheets.doubt, name="doubt"),
]
