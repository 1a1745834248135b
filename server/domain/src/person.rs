//! Names of people: which are one name, and which only look like one.

use unicode_normalization::UnicodeNormalization;
use unicode_security::confusable_detection::skeleton;

/// The name as it looks: names with the same skeleton are taken for one another.
///
/// Letters that look alike or are invisible are recognised by the skeleton of Unicode Technical Standard 39. Capitals do
/// not tell people apart either; the skeleton knows capitals as other letters, so that it is taken before and after they are
/// made small. A small `i` counts as an `l`, since its capital looks like one.
///
/// ```
/// # use ellwand_domain::person::look_alike_key;
/// assert_eq!(look_alike_key("Owner"), look_alike_key("\u{43e}wn\u{200b}er"));
/// assert_ne!(look_alike_key("anna"), look_alike_key("hanna"));
/// ```
#[must_use]
pub fn look_alike_key(name: &str) -> String {
    let seen = skeleton(name).collect::<String>().to_lowercase();
    skeleton(&seen)
        .map(|letter| if letter == 'i' { 'l' } else { letter })
        .collect()
}

/// True for one name, whatever its capitals and however its accents are written.
#[must_use]
pub fn is_same(one: &str, other: &str) -> bool {
    one.nfd()
        .flat_map(char::to_lowercase)
        .eq(other.nfd().flat_map(char::to_lowercase))
}

/// The one form in which a name is kept: accents as one letter where there is such a letter.
#[must_use]
pub fn composed(name: &str) -> String {
    name.nfc().collect()
}
