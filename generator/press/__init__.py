"""What is printed: sheets in exact millimetres, each a PDF, and a bound pack of every kind.

The seam
--------
A **sheet** (:class:`generator.press.sheet.Sheet`) is frozen and says what it is, what it is about,
on which paper, how many are wanted and where it hangs. Its body is one of two:

``Drawn(faces)``
    Drawings in millimetres (:mod:`generator.drawings.ink`), one a face, each exactly as large as
    the paper. The press sets the shapes as a picture (its alternative text is the drawing's
    ``desc``) and every :class:`~generator.drawings.ink.Label` as real text at its place, so a
    drawing only has to measure its labels (:mod:`generator.drawings.type`). A label in another
    language than the sheet's says so in ``Label.language``: that shapes it and turns it right to
    left. What is to reach the edge of the cut sheet is drawn 3 mm beyond it.
``Typeset(template, data, pictures)``
    Running text that ``templates/sheets/<template>.typ`` sets: it holds one function
    ``#let body(data, pictures) = …``. ``data`` is plain JSON; write shop text into it as it is and
    never build markup from it. A picture is set by ``drawing(pictures.name)`` of ``house.typ``
    inside a box of its size. The house sets paper, margins, type and foot.

Every sheet bears a **foot**: shop, sheet number, date of the data, content hash. A drawing sets it
with ``drawings.foot.draw(held_foot(shop, number), box, size)``; the press fills in date and hash,
since neither is part of what is hashed. So a sheet is stale only when what it shows has changed.

A **kind of sheet** is a module here with one function ``sheets(order) -> Iterator[Sheet]``, entered
in :data:`generator.press.wall.KINDS`. The :class:`~generator.press.order.Order` carries the shop,
its studies, its atlas and the site's address, worked out once.

    press = Press(shop_name, as_of, marked=False, cache=Cache(folder))
    press.pdf(sheet) -> bytes           one sheet
    press.pack(title, sheets) -> bytes  bound, with a bookmark a sheet
    press.thumbnail(sheet) -> bytes     its first face: a drawing as SVG, set text as a small PNG

Standards PDF/UA-1 and PDF/A-2a together; no font of the system; a warning is an error
(:class:`~generator.press.engine.PressError`); the same sheet and date give the same bytes.
"""
