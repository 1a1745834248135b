//! The workshop's logo: a picture that a sheet may show, checked by what is in it.

use crate::desk::{
    Desk, counter,
    failure::{Done, Failure, invalid, not_found},
    perform::Perform,
};
use base64::{Engine, engine::general_purpose::STANDARD};
use ellwand_contract::logos::{GetLogo, Logo};
use ellwand_domain::setting::PictureKind;
use roxmltree::{Document, Node, ParsingOptions};

/// Bytes of a picture, at most: a logo, not a photograph.
const MOST_BYTES: usize = 150_000;

/// Pixels of a side, at most.
const MOST_PIXELS: u32 = 2_000;

/// Elements of an SVG, at most.
const MOST_NODES: u32 = 5_000;

/// Elements that only draw. Whatever else an SVG may hold runs, loads, refers or hides something.
const DRAWING: [&str; 11] = [
    "svg", "g", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "title", "desc",
];

impl Perform for GetLogo {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Logo, Failure> {
        let row = desk.tx.logo(self.logo)?.ok_or_else(|| {
            not_found(
                format!("logo {}", self.logo),
                "ellwand workshop shows the one that is set",
            )
        })?;
        Ok(Logo {
            logo: row.id,
            kind: row.kind,
            picture: row.picture,
        })
    }
}

/// Keeps a picture given in base64, once, and returns its number; an empty text removes the logo.
pub(super) fn keep(desk: &mut Desk<'_>, picture: &str) -> Done<Option<i64>> {
    let picture = picture.trim();
    if picture.is_empty() {
        return Ok(None);
    }
    let bytes = STANDARD
        .decode(picture)
        .map_err(|error| invalid("logo", format!("the picture is not in base64: {error}")))?;
    let kind = kind_of(&bytes)?;
    if let Some(known) = desk.tx.logo_like(picture)? {
        return Ok(Some(known.id));
    }
    let id = desk.tx.next_numbers(counter::LOGO, 1)?;
    desk.tx.insert_logo(&ellwand_storage::Logo {
        id,
        kind,
        picture: picture.to_owned(),
    })?;
    Ok(Some(id))
}

/// What the picture is, by its content.
fn kind_of(bytes: &[u8]) -> Done<PictureKind> {
    let refused = |detail: String| invalid("logo", detail);
    if bytes.len() > MOST_BYTES {
        let detail = format!(
            "the picture has {} kB; {} kB is the most",
            bytes.len().div_ceil(1_000),
            MOST_BYTES / 1_000
        );
        return Err(refused(detail)
            .with("wanted", bytes.len())
            .with("most", MOST_BYTES));
    }
    if bytes.starts_with(b"\x89PNG") {
        png(bytes).map_err(refused)?;
        return Ok(PictureKind::Png);
    }
    let text = std::str::from_utf8(bytes).ok();
    let text = text.filter(|text| {
        text.trim_start_matches('\u{feff}')
            .trim_start()
            .starts_with('<')
    });
    let text = text.ok_or_else(|| refused("the file is neither a PNG nor an SVG".to_owned()))?;
    svg(text).map_err(refused)?;
    Ok(PictureKind::Svg)
}

/// Reads all of a PNG, within the limits.
fn png(bytes: &[u8]) -> Result<(), String> {
    let fault = |error: png::DecodingError| format!("the PNG cannot be read: {error}");
    let limits = png::Limits { bytes: 64_000_000 };
    let decoder = png::Decoder::new_with_limits(std::io::Cursor::new(bytes), limits);
    let mut reader = decoder.read_info().map_err(fault)?;
    let (width, height) = reader.info().size();
    if width.max(height) > MOST_PIXELS {
        return Err(format!(
            "the PNG has {width} x {height} pixels; {MOST_PIXELS} a side is the most"
        ));
    }
    let size = reader.output_buffer_size();
    let mut pixels = vec![0; size.ok_or("the PNG is too large")?];
    reader.next_frame(&mut pixels).map_err(fault)?;
    Ok(())
}

/// Refuses an SVG that does more than draw.
fn svg(text: &str) -> Result<(), String> {
    let options = ParsingOptions {
        nodes_limit: MOST_NODES,
        ..ParsingOptions::default()
    };
    let document = Document::parse_with_options(text, options).map_err(|error| match error {
        roxmltree::Error::DtdDetected => {
            "the SVG has a DTD, which may hold entities; save it as a plain SVG".to_owned()
        }
        error => format!("the SVG cannot be read: {error}"),
    })?;
    let root = document.root_element();
    if !root.has_tag_name((NAMESPACE, "svg")) {
        return Err("the file is XML, but no SVG".to_owned());
    }
    document.descendants().try_for_each(drawn)
}

const NAMESPACE: &str = "http://www.w3.org/2000/svg";

fn drawn(node: Node<'_, '_>) -> Result<(), String> {
    if node.is_pi() {
        return Err("the SVG has a processing instruction; save it as a plain SVG".to_owned());
    }
    if !node.is_element() {
        return Ok(());
    }
    let tag = node.tag_name();
    if tag.namespace() != Some(NAMESPACE) || !DRAWING.contains(&tag.name()) {
        return Err(format!(
            "the SVG has <{}>, and only shapes are drawn; save it as a plain SVG of paths",
            tag.name()
        ));
    }
    for attribute in node.attributes() {
        let (name, value) = (
            attribute.name().to_lowercase(),
            attribute.value().to_lowercase(),
        );
        let refers = [
            "url(",
            "image(",
            "image-set(",
            "javascript:",
            "@import",
            "expression(",
        ];
        if name.starts_with("on")
            || name == "href"
            || refers.iter().any(|word| value.contains(word))
            // An escape may write any of these another way.
            || value.contains('\\')
        {
            return Err(format!(
                "the SVG's <{}> has {}, which refers to something or runs it; save it as a plain SVG of paths",
                tag.name(),
                attribute.name()
            ));
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(svg: &str) -> Result<PictureKind, String> {
        kind_of(svg.as_bytes()).map_err(|failure| format!("{failure:?}"))
    }

    #[test]
    fn a_plain_drawing_is_a_picture() {
        let plain = "<?xml version=\"1.0\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 8 4\"><title>mark</title>\
                     <g fill=\"#123\"><path d=\"M0 0h8v4z\"/></g></svg>";
        assert_eq!(of(plain), Ok(PictureKind::Svg));
    }

    #[test]
    fn a_drawing_that_does_more_is_refused() {
        let within =
            |inner: &str| format!("<svg xmlns=\"http://www.w3.org/2000/svg\">{inner}</svg>");
        for (hostile, slip) in [
            (within("<script>alert(1)</script>"), "<script>"),
            (
                within("<image href=\"http://example.org/a.png\"/>"),
                "<image>",
            ),
            (within("<use href=\"#a\"/>"), "<use>"),
            (within("<foreignObject/>"), "<foreignObject>"),
            (within("<style>@import 'a.css'</style>"), "<style>"),
            (within("<animate/>"), "<animate>"),
            (within("<path onclick=\"alert(1)\"/>"), "onclick"),
            (
                within("<path fill=\"url(http://example.org/#a)\"/>"),
                "fill",
            ),
            (within("<path style=\"fill:URL(#a)\"/>"), "style"),
            (
                within("<path fill=\"\\75rl(http://example.org/#a)\"/>"),
                "fill",
            ),
            (
                within("<g style=\"background:image-set('http://example.org/a' 1x)\"/>"),
                "style",
            ),
            (
                within("<g xmlns:x=\"http://www.w3.org/1999/xlink\" x:href=\"#a\"/>"),
                "href",
            ),
            (within("<x:g xmlns:x=\"http://example.org/\"/>"), "<g>"),
            (
                format!("<!DOCTYPE svg [<!ENTITY a \"b\">]>{}", within("&a;")),
                "DTD",
            ),
            (
                format!("<?xml-stylesheet href=\"a.css\"?>{}", within("")),
                "processing instruction",
            ),
            (
                "<html xmlns=\"http://www.w3.org/1999/xhtml\"/>".to_owned(),
                "no SVG",
            ),
            (within("<g>"), "cannot be read"),
            (within(&"<g/>".repeat(6_000)), "cannot be read"),
            ("GIF89a".to_owned(), "neither a PNG nor an SVG"),
            (" ".repeat(150_001), "150 kB is the most"),
        ] {
            let found = of(&hostile).expect_err("refused");
            assert!(found.contains(slip), "{slip}: {found}");
        }
    }

    #[test]
    fn a_png_is_read_to_its_end_and_within_its_limits() {
        let png = |width: u32, height: u32| {
            let mut file = Vec::new();
            let mut encoder = png::Encoder::new(&mut file, width, height);
            encoder.set_color(png::ColorType::Grayscale);
            let mut writer = encoder.write_header().expect("a header");
            let pixels = vec![0; usize::try_from(width * height).expect("a size")];
            writer.write_image_data(&pixels).expect("pixels");
            drop(writer);
            file
        };
        let whole = png(30, 20);
        assert_eq!(
            kind_of(&whole).map_err(|failure| format!("{failure:?}")),
            Ok(PictureKind::Png)
        );
        let long = [whole.clone(), vec![0; 150_000]].concat();
        for broken in [whole[..40].to_vec(), long, png(2_001, 1)] {
            assert!(kind_of(&broken).is_err());
        }
    }
}
