"""Made-up complaints in three languages, and ways to damage them, for tests and measurements of the search.

A complaint is a qualifier, a part, a behaviour and a condition. All words are ours. With the same seed the same corpus
and the same queries come out.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass

from firstoff.search import Entry, Phrase

#: English, German, Spanish.
Words = tuple[str, str, str]
LANGS = ("en", "de", "es")

QUALIFIERS: tuple[Words, ...] = (
    ("left", "links", "izquierda"),
    ("right", "rechts", "derecha"),
    ("upper", "oben", "superior"),
    ("lower", "unten", "inferior"),
    ("rear", "hinten", "trasera"),
    ("front", "vorne", "delantera"),
    ("inner", "innen", "interior"),
    ("outer", "außen", "exterior"),
    ("new", "neu", "nueva"),
    ("old", "alt", "vieja"),
    ("small", "klein", "pequeña"),
    ("large", "groß", "grande"),
    ("second", "zweite", "segunda"),
    ("main", "haupt", "principal"),
    ("spare", "ersatz", "repuesto"),
    ("middle", "mitte", "central"),
    ("hot", "heiß", "caliente"),
    ("frozen", "vereist", "congelada"),
    ("wet", "nass", "mojada"),
    ("dirty", "schmutzig", "sucia"),
    ("loose", "locker", "suelta"),
    ("bent", "verbogen", "doblada"),
    ("cracked", "gerissen", "rajada"),
    ("worn", "verschlissen", "gastada"),
    ("rusty", "rostig", "oxidada"),
    ("blue", "blau", "azul"),
    ("white", "weiß", "blanca"),
    ("black", "schwarz", "negra"),
    ("plastic", "kunststoff", "plástico"),
    ("steel", "stahl", "acero"),
)
PARTS: tuple[Words, ...] = (
    ("drum", "Trommel", "tambor"),
    ("drain pump", "Laugenpumpe", "bomba de desagüe"),
    ("door seal", "Türdichtung", "junta de puerta"),
    ("door switch", "Türschalter", "interruptor de puerta"),
    ("heater", "Heizung", "calentador"),
    ("belt", "Riemen", "correa"),
    ("motor", "Motor", "motor"),
    ("compressor", "Verdichter", "compresor"),
    ("evaporator fan", "Verdampferlüfter", "ventilador del evaporador"),
    ("condenser", "Verflüssiger", "condensador"),
    ("thermostat", "Temperaturregler", "termostato"),
    ("control board", "Steuerplatine", "placa de control"),
    ("display", "Anzeige", "pantalla"),
    ("ice maker", "Eisbereiter", "fábrica de hielo"),
    ("water inlet valve", "Zulaufventil", "válvula de entrada"),
    ("filter", "Filter", "filtro"),
    ("hose", "Schlauch", "manguera"),
    ("spray arm", "Sprüharm", "brazo aspersor"),
    ("detergent drawer", "Waschmittelschublade", "cajón de detergente"),
    ("lint screen", "Flusensieb", "filtro de pelusa"),
    ("bearing", "Lager", "rodamiento"),
    ("shock absorber", "Stoßdämpfer", "amortiguador"),
    ("hinge", "Scharnier", "bisagra"),
    ("handle", "Griff", "manija"),
    ("lamp", "Lampe", "lámpara"),
    ("shelf", "Ablage", "estante"),
    ("drip tray", "Tropfschale", "bandeja de goteo"),
    ("air damper", "Luftklappe", "compuerta de aire"),
    ("temperature sensor", "Temperaturfühler", "sensor de temperatura"),
    ("igniter", "Zünder", "encendedor"),
    ("burner", "Brenner", "quemador"),
    ("oven element", "Backofenheizkörper", "resistencia del horno"),
    ("turntable", "Drehteller", "plato giratorio"),
    ("fuse", "Sicherung", "fusible"),
    ("terminal block", "Klemmleiste", "regleta de bornes"),
    ("power cord", "Netzkabel", "cable de alimentación"),
    ("timer", "Schaltuhr", "temporizador"),
    ("pressure switch", "Druckschalter", "presostato"),
    ("circulation pump", "Umwälzpumpe", "bomba de circulación"),
    ("float", "Schwimmer", "flotador"),
    ("idler pulley", "Spannrolle", "polea tensora"),
    ("blower wheel", "Gebläserad", "turbina"),
    ("defrost drain", "Tauwasserablauf", "desagüe de descongelación"),
    ("crisper", "Gemüsefach", "cajón de verduras"),
    ("gasket", "Dichtring", "empaque"),
    ("latch", "Verriegelung", "pestillo"),
    ("knob", "Drehknopf", "perilla"),
    ("touch panel", "Bedienfeld", "panel táctil"),
    ("dispenser", "Spender", "dispensador"),
    ("start capacitor", "Anlaufkondensator", "condensador de arranque"),
)
BEHAVIOURS: tuple[Words, ...] = (
    ("does not turn", "dreht nicht", "no gira"),
    ("leaks water", "verliert Wasser", "pierde agua"),
    ("makes a grinding noise", "schleift laut", "hace ruido de roce"),
    ("rattles", "klappert", "traquetea"),
    ("hums but does not start", "brummt aber startet nicht", "zumba pero no arranca"),
    ("will not heat", "heizt nicht", "no calienta"),
    ("overheats", "überhitzt", "se sobrecalienta"),
    ("stays cold", "bleibt kalt", "queda fría"),
    ("trips the breaker", "löst den Schutzschalter aus", "hace saltar el disyuntor"),
    ("smells burnt", "riecht verbrannt", "huele a quemado"),
    ("sparks", "funkt", "chispea"),
    ("is stuck", "klemmt", "está atascada"),
    ("vibrates badly", "vibriert stark", "vibra mucho"),
    ("keeps running", "läuft dauernd", "no deja de funcionar"),
    ("stops early", "stoppt zu früh", "se para antes"),
    ("clicks repeatedly", "klickt wiederholt", "hace clic repetido"),
    ("drips", "tropft", "gotea"),
    ("ices up", "vereist", "se llena de hielo"),
    ("shows nothing", "zeigt nichts an", "no muestra nada"),
    ("flashes", "blinkt", "parpadea"),
    ("is blocked", "ist verstopft", "está obstruida"),
    ("gives a shock", "gibt einen Stromschlag", "da una descarga"),
    ("squeals", "quietscht", "chirría"),
    ("fills slowly", "füllt langsam", "se llena despacio"),
    ("will not open", "öffnet nicht", "no abre"),
    ("will not close", "schließt nicht", "no cierra"),
    ("came off", "hat sich gelöst", "se soltó"),
    ("is torn", "ist eingerissen", "está rota"),
    ("steams", "dampft", "echa vapor"),
    ("cuts out", "schaltet ab", "se corta"),
)
CONDITIONS: tuple[Words, ...] = (
    ("during spin", "beim Schleudern", "en el centrifugado"),
    ("after defrost", "nach dem Abtauen", "tras descongelar"),
    ("when cold", "im kalten Zustand", "en frío"),
    ("while draining", "beim Abpumpen", "al desaguar"),
    ("at start", "beim Start", "al inicio"),
    ("at night", "nachts", "de noche"),
    ("when full", "bei voller Ladung", "con carga completa"),
    ("when empty", "im Leerlauf", "en vacío"),
    ("after a power cut", "nach Stromausfall", "tras un apagón"),
    ("on eco programme", "im Sparprogramm", "en programa económico"),
    ("on high heat", "bei hoher Stufe", "a fuego alto"),
    ("on low heat", "bei niedriger Stufe", "a fuego bajo"),
    ("after moving house", "nach dem Umzug", "tras la mudanza"),
    ("since cleaning", "seit der Reinigung", "desde la limpieza"),
    ("with the door open", "bei offener Tür", "con la puerta abierta"),
    ("in summer", "im Sommer", "en verano"),
    ("in winter", "im Winter", "en invierno"),
    ("after ten minutes", "nach zehn Minuten", "a los diez minutos"),
    ("every time", "jedes Mal", "cada vez"),
    ("now and then", "ab und zu", "a veces"),
    ("during rinse", "beim Spülen", "en el aclarado"),
    ("while drying", "beim Trocknen", "al secar"),
    ("while baking", "beim Backen", "al hornear"),
    ("with child lock on", "mit Kindersicherung", "con bloqueo infantil"),
)
#: Words that mean the same, as an index takes them.
SYNONYMS: tuple[tuple[str, ...], ...] = (
    ("rear", "back"),
    ("lower", "bottom"),
    ("upper", "top"),
    ("large", "big"),
    ("heater", "heating element"),
    ("control board", "circuit board", "electronics"),
    ("lamp", "light bulb"),
    ("noise", "sound"),
    ("lint screen", "fluff filter"),
    ("belt", "strap"),
    ("hose", "tube"),
    ("rattles", "clatters"),
    ("squeals", "screeches"),
    ("stuck", "jammed"),
    ("blocked", "clogged"),
    ("fuse", "cutout"),
    ("start", "startup"),
    ("Trommel", "Waschtrommel"),
    ("klemmt", "hakt"),
    ("manguera", "tubo"),
)
_NEIGHBOURS = {
    letter: "".join(row[place + step] for step in (-1, 1) if 0 <= place + step < len(row))
    for row in ("qwertyuiop", "asdfghjkl", "zxcvbnm")
    for place, letter in enumerate(row)
}
_SYLLABLES = (
    *("bel", "cor", "dan", "fil", "gor", "hap", "jin", "kel"),
    *("lom", "mur", "nep", "pol", "rus", "sav", "tir", "vun"),
)


@dataclass(frozen=True, slots=True)
class Complaint:
    """A query, the id of the entry it is about, and the name of the damage done to it."""

    query: str
    wanted: str
    damage: str


def corpus(phrases: int, seed: int = 1, part_words: int = 0) -> list[Entry]:
    """Symptoms with two phrases each, English and one of the three languages, ``phrases`` in all.

    ``part_words`` adds so many made-up words to the vocabulary, one to a complaint, as names of parts do.

    :raises ValueError: more phrases are asked for than there are combinations.
    """
    sizes = (len(QUALIFIERS), len(PARTS), len(BEHAVIOURS), len(CONDITIONS))
    count = phrases // 2
    total = sizes[0] * sizes[1] * sizes[2] * sizes[3]
    if count > total:
        raise ValueError(f"There are {total} complaints; {count} were asked for.")
    chance = random.Random(seed)
    extra = [made_up_word(number) for number in range(part_words)]
    entries: list[Entry] = []
    for number in chance.sample(range(total), count):
        rest, places = number, []
        for size in sizes:
            rest, place = divmod(rest, size)
            places.append(place)
        label = _sentence(places, 0)
        other = chance.randrange(3)
        second = _sentence(places, other) if other else _reordered(places)
        if extra:
            word = chance.choice(extra)
            label, second = f"{label} {word}", f"{second} {word}"
        entries.append(Entry("symptom", f"s{number}", label, (Phrase(label), Phrase(second, LANGS[other]))))
    return entries


def made_up_word(number: int) -> str:
    """A pronounceable word of three or four syllables, a different one for each number below 65,536."""
    base = len(_SYLLABLES)
    places = [number % base, number // base % base, number // base**2 % base, number // base**3]
    return "".join(_SYLLABLES[place % base] for place in places)


def complaints(entries: list[Entry], count: int, seed: int = 2) -> list[Complaint]:
    """``count`` damaged phrases of ``entries``, the kinds of damage in turn."""
    chance = random.Random(seed)
    kinds = list(DAMAGES)
    found: list[Complaint] = []
    while len(found) < count:
        kind = kinds[len(found) % len(kinds)]
        entry = chance.choice(entries)
        damaged = DAMAGES[kind](chance.choice(entry.phrases), chance)
        if damaged is not None:
            found.append(Complaint(damaged, entry.id, kind))
    return found


def _sentence(places: list[int], lang: int) -> str:
    qualifier, part = QUALIFIERS[places[0]][lang], PARTS[places[1]][lang]
    subject = f"{part} {qualifier}" if lang else f"{qualifier} {part}"
    return f"{subject} {BEHAVIOURS[places[2]][lang]} {CONDITIONS[places[3]][lang]}"


def _reordered(places: list[int]) -> str:
    condition, behaviour = CONDITIONS[places[3]][0], BEHAVIOURS[places[2]][0]
    return f"{condition}: {QUALIFIERS[places[0]][0]} {PARTS[places[1]][0]} {behaviour}"


# --- damage ----------------------------------------------------------------------------------------


def _in_long_words(slip: Callable[[str, int, random.Random], str]) -> Callable[[Phrase, random.Random], str | None]:
    """A damage that does ``slip`` to one or two long words of a phrase."""

    def damage(phrase: Phrase, chance: random.Random) -> str | None:
        words = phrase.text.split()
        long = [place for place, word in enumerate(words) if len(word) >= 4]
        if not long:
            return None
        for place in chance.sample(long, min(len(long), 2)):
            words[place] = slip(words[place], chance.randrange(1, len(words[place]) - 1), chance)
        return " ".join(words)

    return damage


def neighbour_key(word: str, place: int, chance: random.Random) -> str:
    """The key beside the right one."""
    near = _NEIGHBOURS.get(word[place].lower())
    return word if near is None else word[:place] + chance.choice(near) + word[place + 1 :]


def dropped_letter(word: str, place: int, _chance: random.Random) -> str:
    """A letter left out."""
    return word[:place] + word[place + 1 :]


def doubled_letter(word: str, place: int, _chance: random.Random) -> str:
    """A letter typed twice."""
    return word[: place + 1] + word[place:]


def swapped_letters(word: str, place: int, _chance: random.Random) -> str:
    """Two letters in the wrong order."""
    return word[:place] + word[place + 1] + word[place] + word[place + 2 :]


def _other_order(phrase: Phrase, chance: random.Random) -> str | None:
    words = phrase.text.split()
    chance.shuffle(words)
    dropped = [word for word in words if len(word) <= 3]
    if dropped:
        words.remove(dropped[0])
    return " ".join(words)


def _half_typed(phrase: Phrase, chance: random.Random) -> str | None:
    last = phrase.text.split()[-1]
    return phrase.text[: -chance.randrange(1, 1 + len(last) // 2)] if len(last) >= 4 else None


def _run_together(phrase: Phrase, chance: random.Random) -> str | None:
    words = phrase.text.split()
    place = chance.randrange(len(words) - 1)
    return " ".join([*words[:place], words[place] + words[place + 1], *words[place + 2 :]])


def _taken_apart(phrase: Phrase, chance: random.Random) -> str | None:
    words = phrase.text.split()
    long = [place for place, word in enumerate(words) if len(word) >= 6]
    if not long:
        return None
    place = chance.choice(long)
    cut = chance.randrange(3, len(words[place]) - 2)
    return " ".join([*words[:place], words[place][:cut], words[place][cut:], *words[place + 1 :]])


def _synonym(phrase: Phrase, chance: random.Random) -> str | None:
    padded = f" {phrase.text} "
    fitting = [(group, word) for group in SYNONYMS for word in group if f" {word} " in padded]
    if not fitting:
        return None
    group, word = chance.choice(fitting)
    other = chance.choice([member for member in group if member != word])
    return padded.replace(f" {word} ", f" {other} ").strip()


def _two_letter_umlauts(phrase: Phrase, chance: random.Random) -> str | None:
    if phrase.lang != "de" or not any(letter in phrase.text for letter in "äöüß"):
        return None
    spelled = phrase.text
    for umlaut, pair in (("ä", "ae"), ("ö", "oe"), ("ü", "ue"), ("Ä", "Ae"), ("Ö", "Oe"), ("Ü", "Ue"), ("ß", "ss")):
        spelled = spelled.replace(umlaut, pair)
    return _in_long_words(dropped_letter)(Phrase(spelled, "de"), chance)


def _without_accents(phrase: Phrase, _chance: random.Random) -> str | None:
    plain = phrase.text.translate(str.maketrans("áéíóúüñ", "aeiouun"))
    return plain.upper() if phrase.lang == "es" and plain != phrase.text else None


def _slip_in_every_word(phrase: Phrase, chance: random.Random) -> str | None:
    words = phrase.text.split()
    slips = (neighbour_key, dropped_letter, doubled_letter, swapped_letters)
    slipped = [
        chance.choice(slips)(word, chance.randrange(1, len(word) - 1), chance) if len(word) >= 4 else word
        for word in words
    ]
    return " ".join(slipped)


def _several_at_once(phrase: Phrase, chance: random.Random) -> str | None:
    words = (_slip_in_every_word(phrase, chance) or "").split()
    chance.shuffle(words)
    words.remove(min(words, key=len))
    together = chance.randrange(len(words) - 1)
    return " ".join([*words[:together], words[together] + words[together + 1], *words[together + 2 :]])


#: Name and damage; a damage is None where it cannot be done to the phrase.
DAMAGES: dict[str, Callable[[Phrase, random.Random], str | None]] = {
    "neighbouring keys": _in_long_words(neighbour_key),
    "dropped letters": _in_long_words(dropped_letter),
    "doubled letters": _in_long_words(doubled_letter),
    "swapped letters": _in_long_words(swapped_letters),
    "other order, a little word dropped": _other_order,
    "half-typed last word": _half_typed,
    "two words run together": _run_together,
    "a word taken apart": _taken_apart,
    "synonym": _synonym,
    "German in two-letter umlauts, letters dropped": _two_letter_umlauts,
    "Spanish without accents, capitals": _without_accents,
    "a slip in every word": _slip_in_every_word,
    "slips, other order, run together": _several_at_once,
}
