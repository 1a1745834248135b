//! Text wrapped to the screen.

use super::Ui;

/// Widest line of running text.
const WIDEST: usize = 100;

/// Shows words wrapped to the width of the screen; every line after the first stands two columns deeper than
/// `indent`, unless the text begins at the margin.
pub fn show(ui: &mut Ui<'_>, indent: usize, text: &str) {
    for line in wrap(text, indent, usize::from(ui.width()).min(WIDEST)) {
        ui.line(line);
    }
}

/// Words longer than a line keep a line of their own.
pub(super) fn wrap(text: &str, indent: usize, width: usize) -> Vec<String> {
    let deeper = if indent == 0 {
        0
    } else {
        indent.saturating_add(2)
    };
    let mut lines = Vec::new();
    let mut line = " ".repeat(indent);
    let mut is_empty = true;
    for word in text.split_whitespace() {
        let length = line.chars().count().saturating_add(word.chars().count());
        if !is_empty && length >= width {
            lines.push(std::mem::replace(&mut line, " ".repeat(deeper)));
            is_empty = true;
        }
        if !is_empty {
            line.push(' ');
        }
        line.push_str(word);
        is_empty = false;
    }
    lines.push(line);
    lines
}

#[cfg(test)]
mod tests {
    use super::wrap;

    #[test]
    fn lines_fill_the_width_and_no_more() {
        assert_eq!(wrap("one two three", 0, 7), ["one two", "three"]);
        assert_eq!(wrap("one two three", 0, 6), ["one", "two", "three"]);
    }

    #[test]
    fn what_follows_stands_deeper_and_a_long_word_stays_whole() {
        assert_eq!(
            wrap("one two unbreakable", 2, 9),
            ["  one two", "    unbreakable"]
        );
    }
}
