//! Fonts, widths and lines of text.

use super::{
    beyond,
    letters::{self, BEYOND, Code},
    widths::{BOLD, REGULAR},
};
use pdf_writer::Name;

/// A font and its size in points.
#[derive(Clone, Copy)]
pub(super) struct Style {
    pub(super) is_bold: bool,
    pub(super) size: f32,
}

pub(super) const TITLE: Style = Style {
    is_bold: true,
    size: 16.0,
};
pub(super) const HEADING: Style = Style {
    is_bold: true,
    size: 11.0,
};
pub(super) const TEXT: Style = Style {
    is_bold: false,
    size: 9.5,
};
pub(super) const STRONG: Style = Style {
    is_bold: true,
    size: 9.5,
};
pub(super) const SMALL: Style = Style {
    is_bold: false,
    size: 8.0,
};

impl Style {
    /// Its name among the resources of a page.
    pub(super) const fn font(self) -> Name<'static> {
        if self.is_bold { Name(b"B") } else { Name(b"R") }
    }

    /// The name of the same font in the second encoding.
    pub(super) const fn font_beyond(self) -> Name<'static> {
        if self.is_bold {
            Name(b"BX")
        } else {
            Name(b"RX")
        }
    }

    /// From one line to the next, in points.
    pub(super) fn leading(self) -> f32 {
        self.size * 1.3
    }

    /// Width of encoded text in points.
    pub(super) fn width(self, text: &[Code]) -> f32 {
        let widths = if self.is_bold { &BOLD } else { &REGULAR };
        let of = |code: &Code| match code.checked_sub(BEYOND) {
            Some(place) => beyond::LETTERS
                .get(usize::from(place))
                .map_or(0, |beyond| beyond.width(self.is_bold)),
            None => widths
                .get(usize::from(code.saturating_sub(SPACE)))
                .copied()
                .unwrap_or_default(),
        };
        let sum: u32 = text.iter().map(|code| u32::from(of(code))).sum();
        // Exact below 2^24 thousandths; a longer line than that is broken anyway.
        sum as f32 * self.size / 1000.0
    }
}

/// A line of encoded text.
pub(super) struct Line {
    pub(super) style: Style,
    pub(super) text: Vec<Code>,
}

impl Line {
    pub(super) fn width(&self) -> f32 {
        self.style.width(&self.text)
    }
}

const SPACE: Code = b' ' as Code;
const BREAK: Code = b'\n' as Code;

/// A text in lines that are at most `width` points wide; a word that is wider is broken.
pub(super) fn wrap(text: &str, style: Style, width: f32) -> Vec<Line> {
    let mut lines = Vec::new();
    for paragraph in letters::encoded(text).split(|code| *code == BREAK) {
        let mut line = Vec::new();
        for word in paragraph
            .split(|code| *code == SPACE)
            .filter(|word| !word.is_empty())
        {
            let gap = if line.is_empty() { &[][..] } else { &[SPACE] };
            if style.width(&[&line[..], gap, word].concat()) <= width {
                line.extend_from_slice(gap);
                line.extend_from_slice(word);
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            for code in word {
                if !line.is_empty() && style.width(&[&line[..], &[*code]].concat()) > width {
                    lines.push(std::mem::take(&mut line));
                }
                line.push(*code);
            }
        }
        lines.push(line);
    }
    lines.into_iter().map(|text| Line { style, text }).collect()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]
mod tests {
    use super::*;

    fn wrapped(text: &str, width: f32) -> Vec<String> {
        let style = Style {
            is_bold: false,
            size: 10.0,
        };
        let byte = |code: Code| u8::try_from(code).unwrap();
        let text_of = |line: Line| line.text.into_iter().map(byte).collect();
        wrap(text, style, width)
            .into_iter()
            .map(|line| String::from_utf8(text_of(line)).unwrap())
            .collect()
    }

    #[test]
    fn a_line_is_as_wide_as_the_published_widths_of_its_letters() {
        // Helvetica.afm: W 944, o 556, l 222; Helvetica-Bold.afm: W 944, o 611, l 278.
        let width = |is_bold, text| {
            Style {
                is_bold,
                size: 10.0,
            }
            .width(&letters::encoded(text))
        };
        assert!((width(false, "Wool") - 22.78).abs() < 0.001);
        assert!((width(true, "Wool") - 24.44).abs() < 0.001);
        // Both: Udieresis 722, Euro 556. Beyond WinAnsi: dcaron 643 and 743, zdotaccent 500.
        assert!((width(false, "Ü€") - 12.78).abs() < 0.001);
        assert!((width(false, "ďż") - 11.43).abs() < 0.001);
        assert!((width(true, "ďż") - 12.43).abs() < 0.001);
    }

    #[test]
    fn lines_fill_the_width_and_no_more() {
        // "Wool Wool" is 48.34 points wide.
        assert_eq!(wrapped("Wool Wool Wool", 48.4), ["Wool Wool", "Wool"]);
        assert_eq!(wrapped("Wool Wool Wool", 48.3), ["Wool", "Wool", "Wool"]);
    }

    #[test]
    fn a_word_wider_than_a_line_is_broken_and_a_paragraph_stays_one() {
        assert_eq!(wrapped("a WoolWool", 23.0), ["a", "Wool", "Wool"]);
        assert_eq!(wrapped("a\n\nb", 23.0), ["a", "", "b"]);
    }
}
