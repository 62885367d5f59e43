"""Registers the slice with Django."""

from django.apps import AppConfig


class TrainingConfig(AppConfig):
    name = "workshops.training"
    label = "training"
