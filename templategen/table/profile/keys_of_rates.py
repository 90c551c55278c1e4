"""The keys of the maker's own pace and prices; defaults are a start set to correct: no measured study is public."""

from templategen.english import CustomerLanguage, English, Language
from templategen.table.profile.key import Key, choice, count, number, section


def _minutes(name: str, default: float, doc: str) -> Key:
    return number(name, default, 0, 10_000, "it is minutes of work", doc)


def _money(name: str, doc: str) -> Key:
    return number(name, 0, 0, 1_000_000, "it is a price, in the money of the stock's prices", doc)


def _share(name: str, default: float, doc: str) -> Key:
    return number(name, default, 0, 300, "it is a share in %", f"%, {doc}")


RATES = section(
    "rates",
    number("day", 6, 0.5, 24, "a day has no more", "hours at the bench in a working day"),
    _minutes("set_up", 15, "minutes to set up a machine and prove it"),
    _minutes("cut", 1.5, "for one cut, or one hole"),
    _minutes("plane", 1, "to plane 300 mm of a face"),
    _minutes("mitre", 2, "for one mitre"),
    _minutes("lap", 15, "for one trench of a lap, or for sawing a ring round"),
    _minutes("mortise", 8, "for one mortise"),
    _minutes("tenon", 6, "for one tenon or tongue, four faces"),
    _minutes("glue_joint", 3, "to glue one joint"),
    _minutes("slat_fit", 4, "to fit one slat"),
    _minutes("sand", 6, "to sand 0.1 m² with one grit"),
    _minutes("oil", 3, "to oil 0.1 m² once"),
    _money("hourly", "for an hour at the bench; with it a price is worked out"),
    _money("pin_price", "for one pin of a slat"),
    _money("bolt_price", "for one bolt of a leg with its washer and barrel nut"),
    _money("glide_price", "for one glide of a foot with its screw or nail"),
    _money("peg_price", "for one peg of a draw-bored leg"),
    _money("glue_price", "for a kilogram of glue"),
    _money("finish_price", "for a litre of finish"),
    _share("waste", 10, "of the boards turn out bad, besides what the layouts lose"),
    _share("overhead", 0, "on materials and work: rent, tools, power, the hours nobody pays"),
    _share("tax", 0, "on the whole"),
    _share("doubt", 25, "by which the hours may be more or less"),
    count("valid", 30, 0, 3650, "prices change", "days that a price told to a customer stands"),
)


MAKER = section(
    "maker",
    Key("maker", "name", "text", "", "yours or your workshop's, on what a customer is given"),
    Key("maker", "lines", "lines", (), "below it: where you are, how you are reached; at most 6"),
    Key("maker", "mark", "text", "", "your mark, on what a customer is given: the d of an SVG path, filled"),
    Key("maker", "currency", "text", "", 'of all your prices, such as "EUR" or "crowns"'),
    Key("maker", "delivery", "text", "", "how and when a table gets to its place, and what that costs"),
)
WORDS = section(
    "words",
    choice("english", "british", English, "of page, lists, drawings and paper: mitre or miter"),
    choice("language", "english", Language, "of findings, cautions, refusals and what is printed"),
    choice("customer", "the same", CustomerLanguage, "of the customer's sheet"),
)
