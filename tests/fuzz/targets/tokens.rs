//! Text of strangers: what is shown holds nothing that a terminal would obey, and a token has its one form.
#![no_main]

use ellwand_contract::{
    people::is_token,
    text::{is_unseen, shown},
};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    assert!(!shown(text).chars().any(|letter| is_unseen(letter) && letter != '\n'));
    if is_token(text) {
        assert!(text.is_ascii() && text.len() == "ellwand_".len() + 64);
    }
});
