//! Reads back what was drawn.

use crate::page::pdf::Page;

/// Where a line stands: left edge, right edge, baseline from the upper edge of the page, in points.
pub(super) type Place = (f32, f32, f32);

/// The written text of all pages in the order of the file, one space between lines and cells.
pub(super) fn text_of(pages: &[Page]) -> String {
    let lines = pages.iter().flat_map(|page| &page.lines);
    let texts = lines.map(|placed| placed.line.text.as_str());
    texts.collect::<Vec<_>>().join(" ")
}

/// Where each line of text stands.
pub(super) fn places(pages: &[Page]) -> Vec<Place> {
    let lines = pages.iter().flat_map(|page| &page.lines);
    let place = lines.map(|placed| {
        let (x, y) = placed.at;
        (x, x + placed.line.width(), y)
    });
    place.collect()
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
