"""Answers: their parts, their uncertainty, words for actions of the hand."""
