"""What is bought and who delivers it, as two small grids, and the edits they make. No Qt."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from app.window.sheet import typed as plain
from app.window.sheet.typed import NotTaken
from app.window.workshop import typed
from app.window.workshop.items import (
    Act,
    Field,
    Grid,
    Item,
    Listing,
    Part,
    Path,
    Row,
    Sentence,
    Title,
    Writing,
    field_of,
    with_field,
)
from app.window.workshop.people import At
from app.words import Words
from app.words import workshop_view as say
from app.words.template import Template
from shared.book import Book, Closure, Material, MaterialKind, Supplier
from shared.edits import Edited, fresh_id
from shared.edits.workshop import put_material, put_supplier, remove_material, remove_supplier
from shared.ids import MaterialId, SupplierId

MaterialWrites = Callable[[Material, str], Material]
SupplierWrites = Callable[[Supplier, str], Supplier]
_SUPPLIERS = Listing(among=lambda book: book.suppliers, put=put_supplier)
_MATERIALS = Listing(among=lambda book: book.materials, put=put_material)
_OF_FIGURES = ("pack_size", "pack_price", "shelf_life_months", "counted")


def bought_part(book: Book, at: At) -> Part:
    """Return the part about materials and who delivers them."""
    words = at.words
    heads = [words.say(head) for head in say.MATERIAL_HEADS]
    rows = [_material_row(book, each, at, i) for i, each in enumerate(book.materials)]
    if at.is_money_hidden:
        del heads[4]
    items: list[Item] = [Title(text=words.say(say.MATERIALS), aside=words.say(say.MATERIALS_ASIDE))]
    if rows:
        items.append(Grid(heads=tuple(heads), rows=tuple(rows)))
    items.append(_adds("add material", say.ADD_MATERIAL, _new_material, words))
    items.append(Title(text=words.say(say.SUPPLIERS), aside=words.say(say.SUPPLIERS_ASIDE)))
    if book.suppliers:
        heads = [words.say(head) for head in say.SUPPLIER_HEADS]
        lines = tuple(_supplier_row(each, at, i) for i, each in enumerate(book.suppliers))
        items.append(Grid(heads=tuple(heads), rows=lines))
    items.append(_adds("add supplier", say.ADD_SUPPLIER, _new_supplier, words))
    for index, supplier in enumerate(book.suppliers):
        items += _shut(supplier, at, ("suppliers", index))
    title = words.say(say.PARTS["bought"])
    scopes = (("materials",), ("suppliers",), ("deliveries",))
    return Part(name="bought", title=title, items=tuple(items), scopes=scopes)


def _adds(name: str, template: Template, write: Writing, words: Words) -> Sentence:
    hint = words.say(say.NEW_NAME_HINT)
    label = words.say(template, name="")
    field = Field(name=name, label=label, text="", write=write, hint=hint)
    return Sentence(template=template, fields=(("name", field),))


def _new_material(book: Book, text: str) -> Edited:
    name = plain.name(text)
    wanted = "-".join(name.casefold().split())
    identity = MaterialId(fresh_id(wanted, (each.id for each in book.materials)))
    supplier = book.suppliers[0].id if len(book.suppliers) == 1 else None
    kind = next((k for k in MaterialKind if k.value in wanted), MaterialKind.OTHER)
    unit = "m3" if kind is MaterialKind.FOAM else "kg"
    made = Material(id=identity, name=name, unit=unit, kind=kind, supplier=supplier)
    return put_material(book, made)


def _new_supplier(book: Book, text: str) -> Edited:
    name, shop = plain.name(text), book.workshop
    wanted = "-".join(name.casefold().split())
    identity = SupplierId(fresh_id(wanted, (each.id for each in book.suppliers)))
    made = Supplier(
        id=identity,
        name=name,
        zone=shop.zone,
        country=shop.country,
        subdivision=shop.subdivision,
        lead_days=3,
        transit_days=1,
    )
    return put_supplier(book, made)


# Materials.


def _material(each: Material, name: str, text: str, write: MaterialWrites, path: Path) -> Field:
    return field_of(
        each,
        name,
        text,
        write,
        (*path, name),
        _MATERIALS,
        is_figure=name in _OF_FIGURES,
    )


def _material_row(book: Book, each: Material, at: At, index: int) -> Row:
    words, path = at.words, ("materials", index)
    kinds = {words.say(word): kind for kind, word in say.MATERIAL_KINDS.items()}
    suppliers = {supplier.name: str(supplier.id) for supplier in book.suppliers}
    named = next((s.name for s in book.suppliers if s.id == each.supplier), "")
    fields = [
        _material(each, "name", each.name, _named, path),
        replace(
            _material(
                each,
                "kind",
                words.say(say.MATERIAL_KINDS[each.kind]),
                lambda m, t: replace(
                    m, kind=MaterialKind(plain.one_of(t, kinds, "not_a_material_kind"))
                ),
                path,
            ),
            suggestions=tuple(kinds),
        ),
        _material(each, "unit", each.unit, lambda m, t: replace(m, unit=plain.name(t)), path),
        *(
            _material(
                each,
                which,
                plain.figure(getattr(each, which)),
                partial(_with_figure, which=which, at=at),
                path,
            )
            for which in _OF_FIGURES
        ),
    ]
    supplier = _material(each, "supplier", named, partial(_from, suppliers=suppliers), path)
    fields.insert(5, replace(supplier, suggestions=tuple(suppliers)))
    if at.is_money_hidden:
        del fields[4]
    remove = Act(text=words.say(say.DO_REMOVE), edit=lambda book: remove_material(book, each.id))
    return Row(fields=tuple(fields), acts=(remove,), path=path)


def _named(material: Material, text: str) -> Material:
    return replace(material, name=plain.name(text))


def _from(material: Material, text: str, *, suppliers: dict[str, str]) -> Material:
    if not text.strip():
        return replace(material, supplier=None)
    return replace(material, supplier=SupplierId(plain.one_of(text, suppliers, "not_a_supplier")))


def _with_figure(material: Material, text: str, *, which: str, at: At) -> Material:
    value = plain.number_or_none(text)
    if which == "shelf_life_months":
        months = None if value is None else plain.whole(text)
        return replace(material, shelf_life_months=months)
    if which == "counted":
        # What is counted now is there from now on, whatever came or went before.
        return replace(material, counted=value, counted_at=None if value is None else at.now)
    return with_field(material, which, value)


# Who delivers.


def _supplier(each: Supplier, name: str, text: str, write: SupplierWrites, path: Path) -> Field:
    return field_of(
        each,
        name,
        text,
        write,
        (*path, name),
        _SUPPLIERS,
        is_figure=name.endswith("days"),
    )


def _supplier_row(each: Supplier, at: At, index: int) -> Row:
    path: Path = ("suppliers", index)
    fields = (
        _supplier(each, "name", each.name, lambda s, t: replace(s, name=plain.name(t)), path),
        _supplier(each, "country", each.country, _with_country, path),
        *(
            _supplier(
                each,
                which,
                plain.figure(getattr(each, which)),
                partial(_with_days, which=which),
                path,
            )
            for which in ("lead_days", "transit_days")
        ),
        replace(
            _supplier(each, "same_day", "yes" if each.same_day else "", _with_morning, path),
            is_tick=True,
        ),
    )
    remove = Act(text=at.words.say(say.DO_REMOVE), edit=lambda book: remove_supplier(book, each.id))
    return Row(fields=fields, acts=(remove,), path=path)


def _with_morning(supplier: Supplier, text: str) -> Supplier:
    return replace(supplier, same_day=bool(text))


def _with_days(supplier: Supplier, text: str, *, which: str) -> Supplier:
    return with_field(supplier, which, plain.whole(text))


def _with_country(supplier: Supplier, text: str) -> Supplier:
    """Return a supplier of another country, with the clock that is usual there."""
    from shared.asking.countries import countries

    code = text.strip().upper()
    known = next((each for each in countries() if each.code == code), None)
    if known is None:
        raise NotTaken("not_a_country", value=text)
    if code == supplier.country:
        return supplier
    return replace(supplier, country=code, subdivision=known.subdivision, zone=known.zone)


def _shut(supplier: Supplier, at: At, path: Path) -> list[Item]:
    found: list[Item] = []
    count = len(supplier.closures)
    for index in range(count + 1):
        old = supplier.closures[index : index + 1]
        text = typed.days_text(old[0].first, old[0].last, at.words, at.today) if old else ""
        write = partial(_with_closure, index=index, at=at)
        days = _supplier(supplier, f"shut {index + 1}", text, write, path)
        days = replace(days, path=(*path, "closures", index), is_figure=False)
        if not old:
            days = replace(days, hint=at.words.say(say.HINT_DAYS))
        act = Act(text=at.words.say(say.DO_REMOVE), edit=partial(_without, supplier.id, index))
        fields = (("supplier", supplier.name), ("days", days))
        acts = (act,) if old else ()
        found.append(Sentence(template=say.SUPPLIER_SHUT, fields=fields, acts=acts))
    return found


def _with_closure(supplier: Supplier, text: str, *, index: int, at: At) -> Supplier:
    first, last = typed.days(text, at.words, at.today)
    old = supplier.closures[index : index + 1]
    made = replace(old[0], first=first, last=last) if old else Closure(first=first, last=last)
    kept = (*supplier.closures[:index], made, *supplier.closures[index + 1 :])
    return replace(supplier, closures=kept)


def _without(supplier: SupplierId, index: int, book: Book) -> Edited:
    now = next(each for each in book.suppliers if each.id == supplier)
    kept = (*now.closures[:index], *now.closures[index + 1 :])
    return put_supplier(book, replace(now, closures=kept))
