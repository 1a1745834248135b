//! Splits a command as a shell does: spaces, single and double quotes, a backslash at the end of a line.

/// The words of a command line.
///
/// # Errors
/// A quote that is not closed.
pub fn split(command: &str) -> Result<Vec<String>, String> {
    let mut words = Vec::new();
    let mut word: Option<String> = None;
    let mut quote = None;
    let joined = command.replace("\\\n", " ");
    for letter in joined.chars() {
        match (quote, letter) {
            (Some(open), letter) if open == letter => quote = None,
            (Some(_), letter) => word.get_or_insert_default().push(letter),
            (None, '\'' | '"') => {
                quote = Some(letter);
                word.get_or_insert_default();
            }
            (None, letter) if letter.is_whitespace() => words.extend(word.take()),
            (None, letter) => word.get_or_insert_default().push(letter),
        }
    }
    words.extend(word);
    if quote.is_some() {
        Err("a quote is not closed".to_owned())
    } else {
        Ok(words)
    }
}

#[cfg(test)]
mod tests {
    use super::split;

    #[test]
    fn quotes_hold_spaces_and_a_backslash_joins_lines() {
        let words = split("buy --supplier 'Quay Shop' \\\n  --line 'a=b c' --width=60\"\"")
            .expect("closed quotes");
        assert_eq!(
            words,
            [
                "buy",
                "--supplier",
                "Quay Shop",
                "--line",
                "a=b c",
                "--width=60"
            ]
        );
    }

    #[test]
    fn an_open_quote_is_refused() {
        assert!(split("buy 'navy wool").is_err());
    }
}
