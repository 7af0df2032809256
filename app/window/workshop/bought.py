"""What is bought and who delivers it, as two small grids, and the edits they make. No Qt."""

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
    Owner,
    Part,
    Row,
    Sentence,
    Title,
    Writing,
    owned,
    put_in,
)
from app.window.workshop.people import At
from app.words import Words
from app.words import workshop_view as say
from app.words.orders import UNITS
from app.words.template import Template
from shared.book import Book, Closure, Material, MaterialKind, Supplier
from shared.edits import Edited, fresh_id
from shared.edits.workshop import put_material, put_supplier, remove_material, remove_supplier
from shared.examine.known_calendars import has_holidays
from shared.ids import MaterialId, SupplierId


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
    if rows:
        keeping = words.say(say.KEEPING), words.say(say.KEEPING_ASIDE)
        items += [Title(text=keeping[0], aside=keeping[1]), _keeping(book, words)]
    items.append(Title(text=words.say(say.SUPPLIERS), aside=words.say(say.SUPPLIERS_ASIDE)))
    if book.suppliers:
        heads = [words.say(head) for head in say.SUPPLIER_HEADS]
        lines = tuple(_supplier_row(each, at, i) for i, each in enumerate(book.suppliers))
        items.append(Grid(heads=tuple(heads), rows=lines))
    items.append(_adds("add supplier", say.ADD_SUPPLIER, _new_supplier, words))
    for index, supplier in enumerate(book.suppliers):
        items += _shut(supplier, at, index)
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


def _material_row(book: Book, each: Material, at: At, index: int) -> Row:
    words = at.words
    its = owned(each, ("materials", index), lambda book: book.materials, put_material)
    kinds = {words.say(word): kind for kind, word in say.MATERIAL_KINDS.items()}
    suppliers = {supplier.name: str(supplier.id) for supplier in book.suppliers}
    named = next((s.name for s in book.suppliers if s.id == each.supplier), "")
    kind, sorts = words.say(say.MATERIAL_KINDS[each.kind]), tuple(kinds)
    fields = [
        its.field("name", each.name, _named, "name"),
        its.field("kind", kind, partial(_of_kind, kinds=kinds), "kind", suggestions=sorts),
        its.field("unit", _unit(each, words), partial(_measured, words=words), "unit"),
        its.figure("pack_size", each.pack_size, plain.number_or_none),
        its.figure("pack_price", each.pack_price, plain.number_or_none),
        its.field(
            "supplier", named, partial(_from, suppliers=suppliers), "supplier",
            suggestions=tuple(suppliers),
        ),
        its.figure("shelf_life_months", each.shelf_life_months, plain.whole_or_none),
        replace(
            its.field("counted", plain.figure(each.counted), partial(_counted, at=at), "counted"),
            is_figure=True,
        ),
    ]  # fmt: skip
    if at.is_money_hidden:
        del fields[4]
    remove = Act(text=words.say(say.DO_REMOVE), edit=lambda book: remove_material(book, each.id))
    return Row(fields=tuple(fields), acts=(remove,), path=its.path)


def _unit(each: Material, words: Words) -> str:
    """Return what a material is counted in, as a word where there is one."""
    return words.say(UNITS[each.unit]) if each.unit in UNITS else each.unit


def _measured(material: Material, text: str, *, words: Words) -> Material:
    known = {words.say(word).casefold(): unit for unit, word in UNITS.items()}
    unit = plain.name(text)
    return replace(material, unit=known.get(unit.casefold(), unit))


def _of_kind(material: Material, text: str, *, kinds: dict[str, str]) -> Material:
    return replace(material, kind=MaterialKind(plain.one_of(text, kinds, "not_a_material_kind")))


def _named(material: Material, text: str) -> Material:
    return replace(material, name=plain.name(text))


def _from(material: Material, text: str, *, suppliers: dict[str, str]) -> Material:
    if not text.strip():
        return replace(material, supplier=None)
    return replace(material, supplier=SupplierId(plain.one_of(text, suppliers, "not_a_supplier")))


def _counted(material: Material, text: str, *, at: At) -> Material:
    """Return a material of which so much is there now, whatever came or went before."""
    value = plain.number_or_none(text)
    return replace(material, counted=value, counted_at=None if value is None else at.now)


def _keeping(book: Book, words: Words) -> Grid:
    """Return how each material is wasted and stored, where that is not as usual."""
    hint = words.say(say.HINT_USUAL)
    rows = []
    for index, each in enumerate(book.materials):
        its = owned(each, ("materials", index), lambda book: book.materials, put_material)
        fields = (
            its.figure("waste_percent", each.waste_percent, plain.number_or_none, hint),
            its.tick("waste_of_gross", is_ticked=each.waste_of_gross),
            its.figure("store_cap", each.store_cap, plain.number_or_none, hint),
            its.figure("margin_days", each.margin_days, plain.whole_or_none, hint),
            its.figure("join_days", each.join_days, plain.whole_or_none, hint),
            its.figure("moulded_days", each.moulded_days, plain.whole_or_none, hint),
            its.figure("age_days", each.age_days, plain.whole_or_none, hint),
        )
        rows.append(Row(fields=fields, label=each.name, path=its.path))
    return Grid(heads=tuple(words.say(head) for head in say.KEEPING_HEADS), rows=tuple(rows))


# Who delivers.


def _owner(each: Supplier, index: int) -> Owner[Supplier]:
    return owned(each, ("suppliers", index), lambda book: book.suppliers, put_supplier)


def _supplier_row(each: Supplier, at: At, index: int) -> Row:
    its, hint = _owner(each, index), at.words.say(say.SUBDIVISION_HINT)
    fields = (
        its.field("name", each.name, lambda s, t: replace(s, name=plain.name(t)), "name"),
        its.field("country", each.country, _with_country, "country"),
        its.field("subdivision", each.subdivision or "", _with_part, "subdivision", hint=hint),
        its.figure("lead_days", each.lead_days, plain.whole),
        its.figure("transit_days", each.transit_days, plain.whole),
        its.tick("same_day", is_ticked=each.same_day),
    )
    remove = Act(text=at.words.say(say.DO_REMOVE), edit=lambda book: remove_supplier(book, each.id))
    return Row(fields=fields, acts=(remove,), path=its.path)


def _with_part(supplier: Supplier, text: str) -> Supplier:
    """Return a supplier in another part of the country."""
    part = text.strip().upper() or None
    if not has_holidays(supplier.country, part, ()):
        raise NotTaken("not_a_subdivision", value=text, country=supplier.country)
    return replace(supplier, subdivision=part)


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


def _shut(supplier: Supplier, at: At, index: int) -> list[Item]:
    its, found = _owner(supplier, index), list[Item]()
    for at_closure, each in enumerate((*supplier.closures, None)):
        text = typed.days_text(each.first, each.last, at.words, at.today) if each else ""
        days = its.field(
            f"shut {at_closure + 1}", text, partial(_with_closure, index=at_closure, at=at),
            "closures", at_closure, hint="" if each else at.words.say(say.HINT_DAYS),
        )  # fmt: skip
        gone = its.without("closures", at_closure, at.words.say(say.DO_REMOVE))
        fields = (("supplier", supplier.name), ("days", days))
        acts = (gone,) if each else ()
        found.append(Sentence(template=say.SUPPLIER_SHUT, fields=fields, acts=acts))
    return found


def _with_closure(supplier: Supplier, text: str, *, index: int, at: At) -> Supplier:
    first, last = typed.days(text, at.words, at.today)
    return put_in(supplier, "closures", index, Closure, first=first, last=last)
