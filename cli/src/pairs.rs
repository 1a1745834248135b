//! Flags of the form `key=value,key=value`, such as `--line`, `--charge`, `--need` and `--operation`.

use std::fmt;

/// The pairs of one flag, in the order typed. Keys are taken out one by one; what is left over is unknown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pairs {
    text: String,
    pairs: Vec<(String, String)>,
}

/// Why a list of pairs was refused.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PairsError(String);

impl PairsError {
    /// Any other fault in a list of pairs.
    pub fn new(message: impl Into<String>) -> Self {
        Self(message.into())
    }
}

impl fmt::Display for PairsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for PairsError {}

impl Pairs {
    /// Reads `key=value,key=value`. A comma begins a new pair only where a known key and `=` follow, so that
    /// values may hold commas (`note=soft, heavy`) and decimal commas; double quotes hold anything.
    ///
    /// # Errors
    /// A part without `=`, an unknown key, a key given twice, an empty value, a quote that is not closed.
    pub fn parse(text: &str, known: &[&str]) -> Result<Self, PairsError> {
        let mut pairs: Vec<(String, String)> = Vec::new();
        for part in split(text)? {
            match part
                .split_once('=')
                .map(|(key, value)| (normal(key), value.trim()))
            {
                Some((key, value)) if known.contains(&key.as_str()) => {
                    if pairs.iter().any(|(other, _)| *other == key) {
                        return Err(PairsError(format!("{key} is given twice in \"{text}\"")));
                    }
                    pairs.push((key, value.to_owned()));
                }
                Some((key, _)) if is_key(&key) => return Err(unknown(&key, known)),
                _ => match pairs.last_mut() {
                    Some((_, value)) => {
                        value.push(',');
                        value.push_str(&part);
                    }
                    None => return Err(no_pair(&part, known)),
                },
            }
        }
        for (key, value) in &mut pairs {
            *value = unquoted(value).trim().to_owned();
            if value.is_empty() {
                return Err(PairsError(format!("{key} has no value in \"{text}\"")));
            }
        }
        if pairs.is_empty() {
            Err(no_pair(text, known))
        } else {
            Ok(Self {
                text: text.to_owned(),
                pairs,
            })
        }
    }

    /// Pairs that were read elsewhere, such as a line of a CSV file; empty values are left out.
    ///
    /// # Errors
    /// An unknown key or a key given twice.
    pub fn from_columns<'a>(
        columns: impl IntoIterator<Item = (&'a str, &'a str)>,
        known: &[&str],
    ) -> Result<Self, PairsError> {
        let mut pairs: Vec<(String, String)> = Vec::new();
        for (key, value) in columns {
            let key = normal(key);
            if !known.contains(&key.as_str()) {
                return Err(unknown(&key, known));
            }
            if pairs.iter().any(|(other, _)| *other == key) {
                return Err(PairsError(format!("the column {key} stands there twice")));
            }
            if !value.trim().is_empty() {
                pairs.push((key, value.trim().to_owned()));
            }
        }
        Ok(Self {
            text: String::new(),
            pairs,
        })
    }

    /// What was typed.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Takes a value out.
    pub fn take(&mut self, key: &str) -> Option<String> {
        let place = self.pairs.iter().position(|(other, _)| other == key)?;
        Some(self.pairs.remove(place).1)
    }

    /// Takes a value out that must be there.
    ///
    /// # Errors
    /// Its absence, with an example.
    pub fn need(&mut self, key: &str, example: &str) -> Result<String, PairsError> {
        self.take(key).ok_or_else(|| match self.text.as_str() {
            "" => PairsError(format!("{key} is missing, for example {example}")),
            text => PairsError(format!(
                "\"{text}\" has no {key}, for example {key}={example}"
            )),
        })
    }

    /// Takes a value out and reads it.
    ///
    /// # Errors
    /// What the reader says, with the key in front.
    pub fn take_as<T: std::str::FromStr<Err: fmt::Display>>(
        &mut self,
        key: &str,
    ) -> Result<Option<T>, PairsError> {
        let Some(value) = self.take(key) else {
            return Ok(None);
        };
        value
            .parse()
            .map(Some)
            .map_err(|error| PairsError(format!("{key}: {error}")))
    }

    /// Takes a yes or no out.
    ///
    /// # Errors
    /// Anything but `yes` and `no`.
    pub fn take_bool(&mut self, key: &str) -> Result<Option<bool>, PairsError> {
        match self.take(key).map(|value| value.to_lowercase()).as_deref() {
            None => Ok(None),
            Some("yes" | "true") => Ok(Some(true)),
            Some("no" | "false") => Ok(Some(false)),
            Some(other) => Err(PairsError(format!(
                "{key}: \"{other}\" is neither yes nor no"
            ))),
        }
    }
}

/// Splits at commas outside double quotes.
fn split(text: &str) -> Result<Vec<String>, PairsError> {
    let mut parts = vec![String::new()];
    let mut quoted = false;
    for (place, letter) in text.char_indices() {
        // A quote opens only right behind `=`, so that inches (60") stay inches.
        let opens = !quoted && letter == '"' && text[..place].ends_with('=');
        let closes =
            quoted && letter == '"' && matches!(text[place..].chars().nth(1), None | Some(','));
        if opens || closes {
            quoted = opens;
        }
        match parts.last_mut() {
            _ if letter == ',' && !quoted => parts.push(String::new()),
            Some(part) => part.push(letter),
            None => {}
        }
    }
    if quoted {
        Err(PairsError(format!("a quote is not closed in \"{text}\"")))
    } else {
        Ok(parts)
    }
}

fn normal(key: &str) -> String {
    key.trim().to_lowercase().replace([' ', '_'], "-")
}

fn is_key(key: &str) -> bool {
    !key.is_empty() && key.bytes().all(|b| b.is_ascii_lowercase() || b == b'-')
}

fn unquoted(value: &str) -> &str {
    value
        .strip_prefix('"')
        .and_then(|rest| rest.strip_suffix('"'))
        .unwrap_or(value)
}

fn unknown(key: &str, known: &[&str]) -> PairsError {
    PairsError(format!(
        "\"{key}\" is not a key here; the keys are {}",
        known.join(", ")
    ))
}

fn no_pair(part: &str, known: &[&str]) -> PairsError {
    PairsError(format!(
        "\"{}\" is not key=value; the keys are {}",
        part.trim(),
        known.join(", ")
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    const KEYS: &[&str] = &["material", "paid", "price", "note", "full-width"];

    fn read(text: &str) -> Result<Vec<(String, String)>, String> {
        Pairs::parse(text, KEYS)
            .map(|pairs| pairs.pairs)
            .map_err(|error| error.to_string())
    }

    fn pairs(list: &[(&str, &str)]) -> Vec<(String, String)> {
        list.iter()
            .map(|(key, value)| ((*key).to_owned(), (*value).to_owned()))
            .collect()
    }

    #[test]
    fn values_may_hold_spaces_and_commas() {
        let expected = pairs(&[
            ("material", "navy wool"),
            ("note", "soft, heavy"),
            ("paid", "2,5m"),
        ]);
        assert_eq!(
            read("material=navy wool, note=soft, heavy,paid=2,5m"),
            Ok(expected)
        );
    }

    #[test]
    fn quotes_hold_what_looks_like_a_pair_and_inches_are_no_quotes() {
        let expected = pairs(&[("note", "a,paid=b"), ("full-width", "60\""), ("price", "1")]);
        assert_eq!(
            read("note=\"a,paid=b\",full_width=60\",price=1"),
            Ok(expected)
        );
    }

    #[test]
    fn an_unknown_key_is_refused_with_the_known_ones() {
        let error = read("material=wool,pirce=3").expect_err("pirce is no key");
        assert!(
            error.starts_with("\"pirce\" is not a key here; the keys are material, paid"),
            "{error}"
        );
    }

    #[test]
    fn a_key_twice_no_pair_no_value_and_an_open_quote_are_refused() {
        assert_eq!(
            read("paid=1m,paid=2m").expect_err("twice"),
            "paid is given twice in \"paid=1m,paid=2m\""
        );
        assert!(
            read("wool")
                .expect_err("no pair")
                .starts_with("\"wool\" is not key=value")
        );
        assert_eq!(
            read("paid=").expect_err("empty"),
            "paid has no value in \"paid=\""
        );
        assert!(
            read("note=\"open")
                .expect_err("open")
                .starts_with("a quote is not closed")
        );
        assert!(read("").is_err());
    }

    #[test]
    fn a_column_may_be_empty_but_not_unknown() {
        let read = Pairs::from_columns([("Full width", "150cm"), ("paid", " ")], KEYS)
            .expect("known columns");
        assert_eq!(read.pairs, pairs(&[("full-width", "150cm")]));
        assert!(Pairs::from_columns([("width", "150cm")], KEYS).is_err());
    }
}
