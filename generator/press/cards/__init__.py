"""Cards and sheets of running text: each is a title, the answer, and blocks under it.

A kind of card is a module here with one function ``sheets(order)``. It says what a card says in
blocks (:mod:`generator.press.cards.blocks`); ``templates/sheets/card.typ`` sets every kind alike.
"""
