//! Slips of the hand, and words that are too far off to be one.

use ellwand_domain::spelling::nearest;

const KEYS: &[&str] = &[
    "material",
    "kind",
    "paid",
    "price",
    "full-width",
    "selvedges",
    "fibres",
    "mass",
    "yarn-count",
    "count",
    "length",
    "note",
    "preparation",
    "mass-min",
    "mass-max",
    "role",
];
const FLAGS: &[&str] = &[
    "for", "due", "count", "note", "need", "supplier", "currency", "rate",
];
const COMMANDS: &[&str] = &[
    "plan", "list", "show", "edit", "copy", "finish", "deliver", "cancel",
];
const PEOPLE: &[&str] = &["Anna Maria", "Bert", "Zoë"];

/// Invented slips, and what was meant by them; none where nothing known is within one wrong letter in four.
#[test]
fn a_slip_finds_its_word_and_another_word_finds_none() {
    for (typed, known, meant) in [
        // Changed places, too few, too many, another.
        ("pirce", KEYS, Some("price")),
        ("matrial", KEYS, Some("material")),
        ("lenght", KEYS, Some("length")),
        ("rol", KEYS, Some("role")),
        ("fullwidth", KEYS, Some("full-width")),
        ("selvages", KEYS, Some("selvedges")),
        ("preperation", KEYS, Some("preparation")),
        ("cuont", FLAGS, Some("count")),
        ("shwo", COMMANDS, Some("show")),
        ("Bret", PEOPLE, Some("Bert")),
        ("zoe", PEOPLE, Some("Zoë")),
        // A part of one, its beginning, or more than it.
        ("width", KEYS, Some("full-width")),
        ("widht", KEYS, Some("full-width")),
        ("prep", KEYS, Some("preparation")),
        ("fibre", KEYS, Some("fibres")),
        ("delivered", COMMANDS, Some("deliver")),
        ("maria", PEOPLE, Some("Anna Maria")),
        // What makers call it.
        ("amount", KEYS, Some("price")),
        ("weight", KEYS, Some("mass")),
        ("type", KEYS, Some("kind")),
        ("from", FLAGS, Some("supplier")),
        ("customer", FLAGS, Some("for")),
        // Too far off.
        ("work", FLAGS, None),
        ("minutes", FLAGS, None),
        ("amount", FLAGS, None),
        ("colour", KEYS, None),
        ("xyz", KEYS, None),
        ("no", KEYS, None),
        ("delete", COMMANDS, None),
        ("Clara", PEOPLE, None),
        ("", KEYS, None),
    ] {
        assert_eq!(nearest(typed, known).copied(), meant, "{typed}");
    }
    let none: &[&str] = &[];
    assert_eq!(nearest("price", none), None);
}
