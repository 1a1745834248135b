//! Styles, widths and lines of text.

use super::fonts::Face;

/// A face and its size in points.
#[derive(Clone, Copy)]
pub(in crate::page) struct Style {
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
    pub(super) fn face(self) -> &'static Face {
        Face::regular_or_bold(self.is_bold)
    }

    /// From one line to the next, in points.
    pub(super) fn leading(self) -> f32 {
        self.size * 1.3
    }

    /// Width of a text in points.
    pub(super) fn width(self, text: &str) -> f32 {
        let face = self.face();
        let widths = text.chars().map(|letter| face.glyph(letter).1);
        widths.sum::<f32>() * self.size
    }
}

/// A line of text.
pub(in crate::page) struct Line {
    pub(super) style: Style,
    pub(in crate::page) text: String,
}

impl Line {
    pub(in crate::page) fn width(&self) -> f32 {
        self.style.width(&self.text)
    }
}

/// A text in lines that are at most `width` points wide; a word that is wider is broken.
pub(super) fn wrap(text: &str, style: Style, width: f32) -> Vec<Line> {
    let space = style.width(" ");
    let mut lines = Vec::new();
    for paragraph in text.split('\n') {
        let (mut line, mut taken) = (String::new(), 0.0);
        for word in paragraph.split(' ').filter(|word| !word.is_empty()) {
            let wide = style.width(word);
            let gap = if line.is_empty() { 0.0 } else { space };
            if taken + gap + wide <= width {
                if !line.is_empty() {
                    line.push(' ');
                }
                line.push_str(word);
                taken += gap + wide;
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            taken = 0.0;
            for letter in word.chars() {
                let wide = style.face().glyph(letter).1 * style.size;
                if !line.is_empty() && taken + wide > width {
                    lines.push(std::mem::take(&mut line));
                    taken = 0.0;
                }
                line.push(letter);
                taken += wide;
            }
        }
        lines.push(line);
    }
    lines.into_iter().map(|text| Line { style, text }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEN: Style = Style {
        is_bold: false,
        size: 10.0,
    };

    fn wrapped(text: &str, width: f32) -> Vec<String> {
        let lines = wrap(text, TEN, width).into_iter();
        lines.map(|line| line.text).collect()
    }

    /// Its letters are as wide as those of Arial, whose digits are 1139 of 2048 wide and whose W, o and l are 1933, 1139 and 455
    /// (from memory of the published metrics): "Wool" is 4666 / 2048 of the size.
    #[test]
    fn a_line_is_as_wide_as_the_widths_of_its_letters() {
        assert!(
            (TEN.width("Wool") - 22.783).abs() < 0.01,
            "{}",
            TEN.width("Wool")
        );
        assert!((TEN.width("0123456789") - 55.615).abs() < 0.01);
        assert!(TEN.width("Жука Ελλάδα") > 50.0);
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

    #[test]
    fn letters_of_europe_are_there_and_others_are_told() {
        let face = TEN.face();
        let known = "ÅåØøßẞžŁőțİĦħЖжюΩλ€£½⅓⅝−–“„…•×‑\u{202f}\u{a0}";
        assert_eq!(known.chars().find(|letter| !face.has(*letter)), None);
        assert!(!face.has('布') && face.glyph('布').1 > 0.0);
    }
}
