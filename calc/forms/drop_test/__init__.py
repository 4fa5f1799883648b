"""Hanging-weight test."""
