//! Letters as the fonts that every reader of PDF has are written: in the WinAnsi encoding, and beyond it in another.

use super::beyond;

/// A letter of the WinAnsi encoding, or from 256 on the place of one that is beyond it.
pub(super) type Code = u16;

/// The first letter beyond the encoding.
pub(super) const BEYOND: Code = 256;

/// Codes 0x80 to 0x9f (ISO 32000-1:2008, annex D.2); a space where none is assigned.
const FROM_80: &str = "€ ‚ƒ„…†‡ˆ‰Š‹Œ Ž  ‘’“”•–—˜™š›œ žŸ";

/// For U+0100 to U+017F the letter without its mark.
const PLAIN_100: &[u8; 128] = b"AaAaAaCcCcCcCcDdDdEeEeEeEeEeGgGgGgGgHhHhIiIiIiIiIiIiJjKkkLlLlLlL\
lLlNnNnNnnNnOoOoOoOoRrRrRrSsSsSsSsTtTtTtUuUuUuUuUuUuWwYyYZzZzZzs";

/// A text in codes; line breaks stay.
///
/// A letter that the fonts do not have becomes the like of it where there is one (`ħ` → `h`, `⅝` → ` 5/8`, a narrow
/// space → a space, a combining mark → nothing), else `?`.
pub(super) fn encoded(text: &str) -> Vec<Code> {
    let mut codes = Vec::with_capacity(text.len());
    for letter in text.chars() {
        match (
            code(letter),
            beyond::place(letter).and_then(|place| Code::try_from(place).ok()),
        ) {
            (Some(code), _) => codes.push(Code::from(code)),
            (None, Some(place)) => codes.push(BEYOND.saturating_add(place)),
            (None, None) => codes.extend(like(letter).iter().map(|code| Code::from(*code))),
        }
    }
    codes
}

/// Letters of a text that can only be shown as `?`, each once.
pub(super) fn lost(text: &str) -> Vec<char> {
    let mut lost = Vec::new();
    for letter in text.chars() {
        let is_known =
            code(letter).is_some() || beyond::place(letter).is_some() || like(letter) != b"?";
        if !is_known && !lost.contains(&letter) {
            lost.push(letter);
        }
    }
    lost
}

fn code(letter: char) -> Option<u8> {
    match letter {
        '\n' | ' '..='~' | '\u{a0}'..='ÿ' => u8::try_from(u32::from(letter)).ok(),
        _ => {
            let place = FROM_80.chars().position(|known| known == letter)?;
            u8::try_from(place).ok()?.checked_add(0x80)
        }
    }
}

fn like(letter: char) -> &'static [u8] {
    match letter {
        'Ĳ' => b"IJ",
        'ĳ' => b"ij",
        '\u{100}'..='\u{17f}' => {
            let place = usize::try_from(u32::from(letter) - 0x100).unwrap_or_default();
            PLAIN_100.get(place..=place).unwrap_or(b"?")
        }
        'ẞ' => b"SS",
        '⅓' => b" 1/3",
        '⅔' => b" 2/3",
        '⅛' => b" 1/8",
        '⅜' => b" 3/8",
        '⅝' => b" 5/8",
        '⅞' => b" 7/8",
        '‐' | '‑' | '‒' | '−' => b"-",
        '′' => b"'",
        '″' => b"\"",
        '⁄' => b"/",
        '≤' => b"<=",
        '≥' => b">=",
        '\u{2000}'..='\u{200a}' | '\u{202f}' | '\u{205f}' | '\u{3000}' => b" ",
        '\u{200b}'..='\u{200d}' | '\u{2060}' | '\u{feff}' | '\u{300}'..='\u{36f}' => b"",
        _ => b"?",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_of_the_encoding_have_its_codes() {
        assert_eq!(bytes("Aé ÿ€ŒŸž–"), b"A\xe9 \xff\x80\x8c\x9f\x9e\x96");
        assert_eq!(FROM_80.chars().count(), 32);
    }

    /// Codes of WinAnsi.
    fn bytes(text: &str) -> Vec<u8> {
        encoded(text)
            .into_iter()
            .map(|code| u8::try_from(code).expect("a letter of WinAnsi"))
            .collect()
    }

    #[test]
    fn letters_beyond_it_are_those_of_the_font() {
        let name = |code: &Code| {
            let place = code.checked_sub(BEYOND).map(usize::from)?;
            beyond::LETTERS.get(place).map(|beyond| beyond.name)
        };
        let names: Vec<_> = encoded("Łódź, Ďuriš").iter().filter_map(name).collect();
        assert_eq!(
            names,
            ["Lslash", "zacute", "Dcaron"],
            "ó and š are in WinAnsi"
        );
        let names: Vec<_> = encoded("ůřęőığ").iter().filter_map(name).collect();
        assert_eq!(
            names,
            [
                "uring",
                "rcaron",
                "eogonek",
                "ohungarumlaut",
                "dotlessi",
                "gbreve"
            ]
        );
    }

    #[test]
    fn what_the_font_does_not_have_is_shown_plain_or_as_a_question() {
        assert_eq!(bytes("ħŦŋĳ"), b"hTnij");
        assert_eq!(bytes("2⅝″ −4\u{202f}€ u\u{308}"), b"2 5/8\" -4 \x80 u");
        assert_eq!(bytes("布 Ж\u{fffd}?"), b"? ???");
        assert_eq!(lost("Łódź 布 Ж, 布? ħ ⅝"), ['布', 'Ж']);
    }
}
