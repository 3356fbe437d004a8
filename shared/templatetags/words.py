"""``{% load words %}``, then ``{% term "mitred" %}``: the word as the reader says it."""

from django import template

from shared import words

register = template.Library()
register.simple_tag(words.term, name="term")
