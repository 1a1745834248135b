//! The word that was meant where another was typed.

/// Letters that are too few to tell one word from another.
const TOO_FEW: usize = 2;

/// One letter in so many may be wrong; one may be in any word (common practice).
const LETTERS_PER_SLIP: usize = 4;

/// What makers call a thing that has another name here, in the order in which it is probably meant.
const OTHER_WORDS: &[(&str, &[&str])] = &[
    ("amount", &["price", "length", "paid"]),
    ("composition", &["fibres"]),
    ("content", &["fibres"]),
    ("cost", &["price"]),
    ("customer", &["for"]),
    ("from", &["supplier"]),
    ("hours", &["planned", "minutes"]),
    ("name", &["material", "role"]),
    ("quantity", &["paid", "count"]),
    ("shop", &["supplier"]),
    ("time", &["planned", "minutes"]),
    ("type", &["kind"]),
    ("weight", &["mass", "gross"]),
];

/// The known word that was probably meant, or none: another name for it; else one in which two letters changed places; else the
/// only one that it is a part or the beginning of, or that it begins with; else the one with the fewest wrong letters, of which one in four may be wrong, and one in any word.
///
/// Wrong is a letter too many, too few, another one, or two that changed places; in a word of several parts, those of a part. The
/// capitals of `word` do not count.
///
/// ```
/// use ellwand_domain::spelling::nearest;
/// let known = ["material", "paid", "price", "full-width", "yarn-count"];
/// assert_eq!(nearest("pirce", &known), Some(&"price"));
/// assert_eq!(nearest("width", &known), Some(&"full-width"));
/// assert_eq!(nearest("colour", &known), None);
/// ```
#[must_use]
pub fn nearest<'k, K: AsRef<str>>(word: &str, known: &'k [K]) -> Option<&'k K> {
    let word = word.trim().to_lowercase();
    let find = |wanted: &str| known.iter().find(|known| known.as_ref() == wanted);
    let other = OTHER_WORDS.iter().find(|(other, _)| *other == word);
    if let Some(found) = other.and_then(|(_, meant)| meant.iter().find_map(|meant| find(meant))) {
        return Some(found);
    }
    if word.chars().count() <= TOO_FEW {
        return None;
    }
    if let Some(found) = known.iter().find(|known| is_swapped(&word, known.as_ref())) {
        return Some(found);
    }
    let mut holding = known.iter().filter(|known| holds(&word, known.as_ref()));
    if let (Some(only), None) = (holding.next(), holding.next()) {
        return Some(only);
    }
    let most = (word.chars().count() / LETTERS_PER_SLIP).max(1);
    let slips = |known: &&'k K| wrong(&word, &known.as_ref().to_lowercase());
    let best = known.iter().min_by_key(slips)?;
    (slips(&best).0 <= most).then_some(best)
}

/// True where the same letters stand in it, two of them in each other's place: `form` for `from`.
fn is_swapped(word: &str, known: &str) -> bool {
    let sorted = |text: &str| {
        let mut letters: Vec<char> = text.chars().collect();
        letters.sort_unstable();
        letters
    };
    let known = known.to_lowercase();
    strsim::damerau_levenshtein(word, &known) == 1 && sorted(word) == sorted(&known)
}

/// True where the word is a part of the known one, or one begins with the other.
fn holds(word: &str, known: &str) -> bool {
    let known = known.to_lowercase();
    let begins = known.starts_with(word)
        || (known.chars().count() > TOO_FEW && word.starts_with(known.as_str()));
    begins || parts(&known).any(|part| part == word)
}

/// Wrong letters beside the nearest part, then beside the whole.
fn wrong(word: &str, known: &str) -> (usize, usize) {
    let whole = strsim::damerau_levenshtein(word, known);
    let of_part = |part: &str| strsim::damerau_levenshtein(word, part);
    let parts = parts(known).filter(|part| part.chars().count() > TOO_FEW);
    (parts.map(of_part).min().unwrap_or(whole).min(whole), whole)
}

fn parts(known: &str) -> impl Iterator<Item = &str> {
    known.split(['-', ' '])
}
