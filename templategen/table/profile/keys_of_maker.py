"""The keys that say who makes the table, and in which words it is told."""

from templategen.english import CustomerLanguage, English, Language
from templategen.table.profile.key import Key, choice, section

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
