"""The front page, and a shop's home. Included at the root: its addresses name the shop."""

from django.urls import path

from workshops.home import views

app_name = "home"
urlpatterns = [
    path("", views.front, name="front"),
    path("<slug:shop>/", views.home, name="home"),
    path("<slug:shop>/tonight/", views.tonight, name="tonight"),
]
