//! Names of people: which look alike, and which are one.

use ellwand_domain::person::{composed, is_same, look_alike_key};
use proptest::prelude::*;

/// Unicode Technical Standard 39, section 4: the skeleton of "paypal" is that of the same with Cyrillic a, p and y (UTR 36, 2.1).
#[test]
fn what_looks_alike_has_one_skeleton() {
    for (one, other) in [
        ("paypal", "\u{440}\u{430}\u{443}\u{440}\u{430}l"),
        ("owner", "own\u{200b}er"),
        ("owner", "ow\u{ad}ner"),
        ("owner", "\u{43e}wner"),
        ("owner", "0wner"),
        ("Owner", "\u{39f}wner"),
        ("OWNER", "OWN\u{415}R"),
        ("Al", "AI"),
        ("marte", "rnarte"),
        ("José", "Jose\u{301}"),
    ] {
        assert_eq!(look_alike_key(one), look_alike_key(other), "{one} {other}");
    }
    for (one, other) in [
        ("anna", "hanna"),
        ("Jose", "José"),
        ("bo", "bob"),
        ("Anna M", "Anna N"),
    ] {
        assert_ne!(look_alike_key(one), look_alike_key(other), "{one} {other}");
    }
}

#[test]
fn one_name_is_one_whatever_its_capitals_and_accents() {
    assert!(is_same("ÅSE", "a\u{30a}se"));
    assert!(!is_same("owner", "\u{43e}wner"));
    assert_eq!(composed("Jose\u{301}"), "José");
}

proptest! {
    /// Names that are one look alike: nobody is refused for looking like themselves, and found under another row.
    #[test]
    fn names_that_are_one_look_alike(name in "[A-Za-z0-9' éøÅ]{1,12}") {
        prop_assert!(is_same(&name, &name.to_uppercase()));
        prop_assert_eq!(look_alike_key(&name), look_alike_key(&name.to_lowercase()));
        prop_assert_eq!(look_alike_key(&name), look_alike_key(&name.to_uppercase()));
    }
}
