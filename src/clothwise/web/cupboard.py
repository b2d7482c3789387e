"""The cupboard: cloths as swatches, and one cloth with its shape, its figures and how to test them at home."""

from __future__ import annotations

from typing import Any, get_args

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.cloth import SEASONS, Cloth, Make, Nap
from clothwise.cloth.cloth import SeeThrough
from clothwise.cloth.home_tests import HOW_TO_DRAPE_BY_DISC, HOW_TO_DRAPE_BY_EDGE, HOW_TO_SHRINK, HOW_TO_STRETCH
from clothwise.cloth.kinds import Kind, facts, find_kind, kinds
from clothwise.cloth.typed import cloth_typed
from clothwise.cloth.words import KNOWN
from clothwise.errors import ClothError
from clothwise.store import Store, deeds, photos
from clothwise.store.store import CLOTH
from clothwise.store.versions import refuse_unfit_name
from clothwise.web.cloth_state import said, with_fields, words_of
from clothwise.web.dye import dyed, over, printed
from clothwise.web.entries import forget_route, keep_entries
from clothwise.web.photographs import photo_routes
from clothwise.web.sheet import Reader, as_json, go_to, named, page, reader, slug, store_of

SCOPE = CLOTH.word
FIELDS = (
    *("kind", "make", "fibre", "colour", "weight", "width", "length", "washed", "shrinkage"),
    *("stretch_across", "stretch_along", "recovery", "drape", "see_through"),
    *("nap", "one_way_print", "repeat_along", "repeat_across", "uneven_repeat", "price", "outline", "flaws"),
)
TESTS = (
    ("Stretch, and how it goes back", "stretch_across", "10 to 15", HOW_TO_STRETCH),
    ("Shrinkage", "shrinkage", "50 to 47.5", HOW_TO_SHRINK),
    ("Drape, over a table's edge", "drape", "edge 4.2", HOW_TO_DRAPE_BY_EDGE),
    ("Drape, over a tin", "drape", "disc 12 13 12.5 13 12 13 12.5 13", HOW_TO_DRAPE_BY_DISC),
)


async def show(request: Request) -> Response:
    """All cloths, and how to put one in."""
    return await run_in_threadpool(_shown, request)


def _shown(request: Request) -> Response:
    store, who = store_of(request), reader(request)
    return page(
        request, "cupboard.html", title="Cupboard", scope=f"{SCOPE}/", kinds=kinds(),
        cloths=[swatch(store, cloth, who) for cloth in store.cloths()],
    )  # fmt: skip


def swatch(store: Store, cloth: Cloth, who: Reader) -> dict[str, Any]:
    """A cloth as a swatch: its photo or its colour with its repeat, its shape, and in a line what it is."""
    size = f"{who.length(cloth.width)} wide, {who.metres(cloth.length)}"
    told = [cloth.kind or cloth.make, size]
    told += ["a remnant"] if cloth.outline else []
    told += [] if cloth.washed else ["not washed yet"]
    told += ["one way"] if cloth.laid_nap == "one-way" else []
    flaws = len(cloth.flaws)
    told += [f"{flaws} flaw{'s' * (flaws > 1)}"] if flaws else []
    return {
        "cloth": cloth, "told": ", ".join(told), "shape": shape(cloth),
        "photo": next(iter(photos.of_thing(store, f"cloth/{cloth.name}")), None),
    }  # fmt: skip


def shape(cloth: Cloth) -> dict[str, Any]:
    """The cloth as drawn: x along the selvedge, y across; corners to pull, and paths to look at. [cm]"""
    outline = cloth.outline or (
        (0.0, 0.0), (cloth.length, 0.0), (cloth.length, cloth.width), (0.0, cloth.width),
    )  # fmt: skip
    return {
        "length": cloth.length, "width": cloth.width, "path": _path(outline),
        "flaws": [_path(flaw) for flaw in cloth.flaws], "dye": dyed(cloth.colour),
        "over": over(cloth.colour), "printed": printed(cloth.colour),
        "corners": [list(corner) for corner in outline],
        "flaw_corners": [[list(corner) for corner in flaw] for flaw in cloth.flaws],
        "along": cloth.repeat_along, "across": cloth.repeat_across, "remnant": bool(cloth.outline),
    }  # fmt: skip


def _path(outline: Any) -> str:
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in outline) + "Z"


async def add(request: Request) -> Response:
    """Puts a cloth in; what is not said is taken from its kind."""
    form = await request.form()
    return await run_in_threadpool(_added, request, {key: str(value) for key, value in form.items()})


def _added(request: Request, asked: dict[str, str]) -> Response:
    store, name = store_of(request), asked.get("name", "").strip()
    refuse_unfit_name("cloth", name)
    if name in {cloth.name for cloth in store.cloths()}:
        raise ClothError(
            f"There is a cloth called '{name}' already.", where="cupboard", mend="Give it another name."
        )
    fields = {
        field: asked[field] for field in ("kind", "width", "length", "colour") if asked.get(field, "").strip()
    }
    fields["washed"] = "yes" if asked.get("washed") else "no"
    cloth = cloth_typed(name, fields, unit=reader(request).unit)
    deeds.keep(store, CLOTH, cloth, f"{name} put in")
    return go_to(f"/cloth/{slug(name)}")


# ---- one cloth -----------------------------------------------------------------------------------


async def cloth(request: Request) -> Response:
    """One cloth."""
    return await run_in_threadpool(_cloth, request)


def _cloth(request: Request) -> Response:
    store, who = store_of(request), reader(request)
    name = named(request.path_params["name"])
    found = store.cloth(name)
    return page(
        request, "one_cloth.html", title=name, scope=f"{SCOPE}/{name}", path=f"/cloth/{slug(name)}",
        swatch=swatch(store, found, who), cloth=found, says={path: said(found, path, who) for path in FIELDS},
        kinds=kinds(), makes=get_args(Make), naps=get_args(Nap), sheer=get_args(SeeThrough), seasons=SEASONS,
        facts=facts_told(found, who), tests=TESTS, photos=photos.of_thing(store, f"cloth/{name}"),
        earlier=[swatch(store, one, who)["told"] for one in reversed(store.earlier_cloths(name))][:12],
        tickets=[ticket.name for ticket in store.tickets() if f'"{name}"' in ticket.text],
    )  # fmt: skip


def facts_told(cloth: Cloth, who: Reader) -> list[str]:
    """What follows: usable size, what is taken to be true of it, and how its kind is sewn."""
    known, kind = facts(cloth), find_kind(cloth.kind)
    told = []
    if not cloth.washed:
        told.append(
            f"After the first wash about {who.length(cloth.usable_width)} wide and "
            f"{who.metres(cloth.usable_length)} long: wash it before it is cut."
        )
    if cloth.remnant:
        told.append(f"{cloth.usable_area_cm2 / 10_000:.2f} m² can be cut from at most.")
    told.append(f"Drape coefficient {known.drape:.0%}, {_drape(known.drape)} ({KNOWN[known.drape_known]}).")
    if cloth.make == "knit" or cloth.stretch_across:
        told.append(
            f"Ten centimetres pull out to {10 * (1 + cloth.stretch_across):.1f}, and go back "
            f"{known.recovery:.0%} of that ({KNOWN[known.recovery_known]})."
        )
    told.append(f"{(known.see_through or 'opaque').capitalize()}; worn in {', '.join(known.seasons)}.")
    return told + (_sewing(kind) if kind else [])


def _drape(coefficient: float) -> str:
    return "falls softly" if coefficient < 0.4 else "hangs" if coefficient < 0.65 else "stands away"


def _washed(wash: str) -> str:
    if wash.isdigit():
        return f"Wash at {wash} °C at most"
    return "Wash by hand" if wash == "hand" else wash.capitalize()


def _sewing(kind: Kind) -> list[str]:
    return [
        f"Needle {kind.needle}, stitch {kind.stitch_mm:g} mm; edges: {kind.finish}.",
        f"Press with a {kind.iron} iron, {kind.press}. {_washed(kind.wash)}.",
        "What is usual for a kind is an estimate: your own tests, typed below, count for more.",
    ]


async def kept(request: Request) -> Response:
    """Keeps fields as one deed: {"set": {field: text}}; answers with all that follows from them."""
    from clothwise.web.tickets import entries_of

    entries = await entries_of(request)
    return await run_in_threadpool(_kept, request, entries)


def _kept(request: Request, entries: dict[str, str]) -> Response:
    store, name, who = store_of(request), named(request.path_params["name"]), reader(request)
    told = keep_entries(
        store, CLOTH, name,
        lambda cloth: with_fields(cloth, entries, who),
        lambda before, after: words_of(before, after, entries, who),
    )  # fmt: skip
    if "refused" in told:
        return as_json(request, told)
    found = store.cloth(name)
    return as_json(
        request,
        {
            **told,
            "says": {path: said(found, path, who) for path in (*FIELDS, *(f"season.{one}" for one in SEASONS))},
            "facts": facts_told(found, who),
            "told": swatch(store, found, who)["told"],
            "shape": shape(found),
        },
    )


ROUTES = (
    Route("/cupboard", show),
    Route("/cupboard/add", add, methods=["POST"]),
    Route("/cloth/{name}", cloth),
    Route("/cloth/{name}/keep", kept, methods=["POST"]),
    forget_route("/cloth/{name}", CLOTH, "{name} taken off", "/cupboard"),
    *photo_routes("/cloth/{name}", "cloth"),
)
