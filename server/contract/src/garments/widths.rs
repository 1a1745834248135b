//! Reads lengths by width.

use super::WidthInput;
use crate::Typed;
use ellwand_domain::quantity::Micrometres;

/// Reads lengths by width: `90cm:3.90m / 140cm:2.60m`.
///
/// # Errors
/// A row that is no width and length.
pub fn widths(text: &str) -> Result<Vec<WidthInput>, String> {
    rows(text).into_iter().map(width).collect()
}

/// Rows between strokes; a stroke between two digits is that of a fraction.
fn rows(text: &str) -> Vec<&str> {
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let (mut rows, mut begin) = (Vec::new(), 0);
    for (at, _) in text.match_indices('/') {
        let (before, after) = (
            text[..at].chars().next_back(),
            text[at + 1..].chars().next(),
        );
        if !(digit(before) && digit(after)) {
            rows.push(&text[begin..at]);
            begin = at + 1;
        }
    }
    if !text.is_empty() {
        rows.push(&text[begin..]);
    }
    rows
}

fn width(text: &str) -> Result<WidthInput, String> {
    let text = text.trim();
    let (width, length) = text
        .split_once(':')
        .ok_or_else(|| format!("\"{text}\" is not width:length, for example 140cm:2.60m"))?;
    let read = |text: &str| {
        let typed = text.trim().parse::<Typed<Micrometres>>();
        typed.map_err(|error| error.to_string())
    };
    Ok(WidthInput {
        width: read(width)?,
        length: read(length)?,
    })
}
