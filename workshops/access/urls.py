"""Addresses of signing in, and of the list of those who may."""

from django.urls import path

from workshops.access import views

app_name = "access"
urlpatterns = [
    path("sign-in/", views.SignIn.as_view(), name="sign_in"),
    path("sign-out/", views.SignOut.as_view(), name="sign_out"),
    path("password/", views.ChangePassword.as_view(), name="password"),
    path("<slug:shop>/members/", views.members, name="members"),
    path("<slug:shop>/members/<int:pk>/", views.member, name="member"),
]
