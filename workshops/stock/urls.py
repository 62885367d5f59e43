"""Addresses of the slice's pages, below the shop's own address."""

from django.urls import path

from workshops.stock.views import (
    counting,
    cut_lists,
    describing,
    goods_in,
    item,
    movements,
    needs,
    on_hand,
)

app_name = "stock"
urlpatterns = [
    path("stock/", on_hand.on_hand, name="on_hand"),
    path("stock/goods-in/", goods_in.goods_in, name="goods_in"),
    path("stock/count/", counting.places, name="count"),
    path("stock/count/<int:place>/", counting.count_place, name="count_place"),
    path("stock/movements/", movements.movements, name="movements"),
    path("stock/movements/<int:pk>/", movements.entry, name="entry"),
    path("stock/movements/<int:pk>/take-back/", movements.take_back, name="take_back"),
    path("stock/needs/", needs.needs, name="needs"),
    path("stock/needs/work-out/", needs.work_out, name="work_out"),
    path("stock/cut-lists/", cut_lists.cut_lists, name="cut_lists"),
    path("stock/cut-lists/new/", cut_lists.new, name="new_cut_list"),
    path("stock/cut-lists/tonight/", cut_lists.tonight, name="cut_tonight"),
    path("stock/cut-lists/<int:pk>/", cut_lists.cut_list, name="cut_list"),
    path("stock/new-item/", describing.add_item, name="add_item"),
    path("stock/new-place/", describing.add_place, name="add_place"),
    path("stock/items/<slug:item>/edit/", describing.edit_item, name="edit_item"),
    path("stock/items/<slug:item>/parts-list/", describing.parts_list, name="parts_list"),
    path("stock/items/<slug:item>/", item.item, name="item"),
    path("stock/items/<slug:item>/set-aside/", item.set_aside, name="set_aside"),
]
