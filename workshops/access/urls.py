"""Addresses of signing in, and of the list of those who may."""

from django.urls import path

from workshops.access import views

app_name = "access"
urlpatterns = [
    path("sign-in/", views.SignIn.as_view(), name="sign_in"),
    path("sign-out/", views.SignOut.as_view(), name="sign_out"),
    path("sign-in/again/", views.again, name="again"),
    path("password/", views.ChangePassword.as_view(), name="password"),
    path("password/forgotten/", views.ForgottenPassword.as_view(), name="forgotten"),
    path("password/sent/", views.PasswordSent.as_view(), name="forgotten_sent"),
    path("password/new/<uidb64>/<token>/", views.NewPassword.as_view(), name="new_password"),
    path("<slug:shop>/trail/", views.trail, name="trail"),
    path("<slug:shop>/members/", views.members, name="members"),
    path("<slug:shop>/members/<int:pk>/", views.member, name="member"),
    path("<slug:shop>/members/<int:pk>/let-in/", views.let_in, name="let_in"),
]
