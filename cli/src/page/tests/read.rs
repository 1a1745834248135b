//! Reads back what was drawn, as plainly as a small reader can.

use crate::page::pdf::read_back;

/// Where a line stands: left edge, right edge, baseline, in points.
pub(super) type Place = (f32, f32, f32);

/// How many pages a file has.
pub(super) fn pages(file: &[u8]) -> usize {
    String::from_utf8_lossy(file)
        .matches("/Type /Page\n")
        .count()
}

/// Follows `startxref` to the table and each of its entries to its object; returns how many there are.
#[track_caller]
pub(super) fn objects(file: &[u8]) -> usize {
    let raw = latin(file);
    let (_, end) = raw.rsplit_once("startxref\n").unwrap();
    let (start, rest) = end.split_once('\n').unwrap();
    assert_eq!(rest, "%%EOF");
    let table = raw[start.parse::<usize>().unwrap()..]
        .strip_prefix("xref\n0 ")
        .unwrap();
    let (count, entries) = table.split_once('\n').unwrap();
    let count: usize = count.parse().unwrap();
    let (entries, trailer) = entries.split_at(20 * count);
    assert!(
        trailer.starts_with("trailer\n") && trailer.contains(&format!("/Size {count}\n")),
        "{trailer}"
    );
    for number in 1..count {
        let entry = &entries[20 * number..20 * (number + 1)];
        assert_eq!(&entry[10..], " 00000 n\r\n");
        let at: usize = entry[..10].parse().unwrap();
        assert!(
            raw[at..].starts_with(&format!("{number} 0 obj\n")),
            "object {number} is not at {at}"
        );
    }
    count - 1
}

/// The written text of all pages in the order of the file, one space between lines and cells.
pub(super) fn text_of(file: &[u8]) -> String {
    lines(file)
        .into_iter()
        .map(|(text, _)| text)
        .collect::<Vec<_>>()
        .join(" ")
}

/// Where each line of text stands.
pub(super) fn places(file: &[u8]) -> Vec<Place> {
    lines(file).into_iter().map(|(_, place)| place).collect()
}

/// One character for each byte, so that places in the file are places in the text.
fn latin(file: &[u8]) -> String {
    // Above 0x7f the file holds only the mark in its second line; other letters are written in hexadecimal.
    file.iter()
        .map(|byte| {
            if byte.is_ascii() {
                char::from(*byte)
            } else {
                '.'
            }
        })
        .collect()
}

fn lines(file: &[u8]) -> Vec<(String, Place)> {
    let mut lines = Vec::new();
    for piece in latin(file).split("BT\n").skip(1) {
        let drawn = piece.split_once("\nET").unwrap().0;
        let number = |text: &str| text.parse::<f32>().unwrap();
        let (mut text, mut place, mut style) = (String::new(), (0.0, 0.0, 0.0), ("", 0.0));
        for operator in drawn.split('\n') {
            if let Some(font) = operator.strip_suffix(" Tf") {
                let (font, size) = font.split_once(' ').unwrap();
                style = (font, number(size));
            } else if let Some(start) = operator.strip_suffix(" Td") {
                let (x, y) = start.split_once(' ').unwrap();
                place = (number(x), number(x), number(y));
            } else {
                let bytes = string(operator.strip_suffix(" Tj").unwrap());
                let (width, run) = read_back(style.0, style.1, &bytes);
                place.1 += width;
                text.push_str(&run);
            }
        }
        lines.push((text, place));
    }
    assert!(!lines.is_empty());
    lines
}

/// The bytes of `(a\(b\))` or `<61FC>`.
fn string(written: &str) -> Vec<u8> {
    if let Some(digits) = written.strip_prefix('<') {
        let digits = digits.strip_suffix('>').unwrap().as_bytes();
        let byte =
            |pair: &[u8]| u8::from_str_radix(std::str::from_utf8(pair).unwrap(), 16).unwrap();
        return digits.chunks(2).map(byte).collect();
    }
    let inner = written
        .strip_prefix('(')
        .and_then(|rest| rest.strip_suffix(')'))
        .unwrap();
    let mut bytes = Vec::new();
    let mut letters = inner.bytes();
    while let Some(byte) = letters.next() {
        bytes.push(if byte == b'\\' {
            letters.next().unwrap()
        } else {
            byte
        });
    }
    bytes
}

/// Elements close in the order in which they opened; what has no end is left out.
#[track_caller]
pub(super) fn closed(page: &str) {
    let mut open = Vec::new();
    let body = page.strip_prefix("<!DOCTYPE html>\n").unwrap();
    for tag in body.split('<').skip(1) {
        let tag = tag.split_once('>').unwrap().0;
        let name = tag.split(' ').next().unwrap();
        match name.strip_prefix('/') {
            Some(name) => assert_eq!(open.pop(), Some(name)),
            None if matches!(name, "meta" | "br") || tag.ends_with('/') => {}
            None => open.push(name),
        }
    }
    assert!(
        open.is_empty() && body.matches("<table>").count() > 1,
        "{open:?}"
    );
}
