"""The part of the map that is about the shelf."""

from django.urls import path

from records.pages.stock import NewDelivery, Stock
from records.pages.stock_lot import ExplainCount, Recalled, RecallFile, StockLedger, StockLot, TakeBack

urlpatterns = [
    path("", Stock.as_view(), name="stock"),
    path("delivery/", NewDelivery.as_view(), name="stock_delivery"),
    path("<uuid:lot>/", StockLot.as_view(), name="stock_lot"),
    path("<uuid:lot>/ledger.csv", StockLedger.as_view(), name="stock_ledger"),
    path("<uuid:lot>/recall/", Recalled.as_view(), name="stock_recall"),
    path("<uuid:lot>/recall.csv", RecallFile.as_view(), name="stock_recall_file"),
    path("<uuid:lot>/entries/<uuid:move>/take-back/", TakeBack.as_view(), name="stock_take_back"),
    path("<uuid:lot>/entries/<uuid:move>/explain/", ExplainCount.as_view(), name="stock_explain"),
]
