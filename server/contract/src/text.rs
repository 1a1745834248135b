//! Text that people type and a terminal shows.

use std::borrow::Cow;

/// True for what is not seen and a terminal would obey: control characters, and those that turn the direction of writing.
#[must_use]
pub fn is_unseen(letter: char) -> bool {
    letter.is_control() || matches!(letter, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// True for what no field of a request may hold; a note may have several lines.
#[must_use]
pub fn is_refused(letter: char) -> bool {
    is_unseen(letter) && !matches!(letter, '\n' | '\r' | '\t')
}

/// The text as a terminal may show it: what it would obey stands there as U+FFFD, except line breaks.
#[must_use]
pub fn shown(text: &str) -> Cow<'_, str> {
    let obeyed = |letter: char| is_unseen(letter) && letter != '\n';
    if !text.contains(obeyed) {
        return Cow::Borrowed(text);
    }
    Cow::Owned(text.replace(obeyed, "\u{fffd}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_terminal_would_obey_is_seen_as_a_mark() {
        assert_eq!(shown("box 2\u{1b}[2J\u{9b}1m\u{202e}evil"), "box 2\u{fffd}[2J\u{fffd}1m\u{fffd}evil");
        assert!(matches!(shown("Müller, 2 m\nupper shelf"), Cow::Borrowed(_)));
    }

    #[test]
    fn a_note_may_have_lines_and_no_controls() {
        assert!(!"first\r\n\tsecond".contains(is_refused));
        assert!("bell\u{7}".contains(is_refused));
    }
}
