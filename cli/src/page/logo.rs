//! The logo at the head of a sheet.

use super::PageError;
use base64::{Engine, engine::general_purpose::STANDARD};
use ellwand_contract::logos::Logo;
use ellwand_domain::setting::PictureKind;
use krilla::{
    color::rgb,
    geom::{Path, PathBuilder, Size, Transform},
    image::Image,
    num::NormalizedF32,
    paint::{Fill, FillRule, LineCap, LineJoin, Stroke},
    surface::Surface,
};
use usvg::tiny_skia_path::PathSegment;

/// Room for it in points: 40 mm by 16 mm.
const ROOM: (f32, f32) = (113.4, 45.4);

/// A picture that can be drawn, and its address within a page.
pub(super) struct Picture {
    drawing: Drawing,
    /// Width and height in points.
    pub(super) size: (f32, f32),
    /// `data:image/png;base64,…`
    pub(super) address: String,
}

enum Drawing {
    Pixels(Image),
    Shapes(Box<usvg::Tree>),
}

impl Picture {
    /// Reads a logo.
    ///
    /// # Errors
    /// [`PageError::Drawn`]: the book takes no logo that cannot be read.
    pub(super) fn from_logo(logo: &Logo) -> Result<Self, PageError> {
        let bytes = STANDARD
            .decode(&logo.picture)
            .map_err(|_| PageError::Drawn)?;
        let (drawing, (width, height), mime) = match logo.kind {
            PictureKind::Png => {
                let image = Image::from_png(bytes.into(), false);
                let image = image.map_err(|_| PageError::Drawn)?;
                let (width, height) = image.size();
                let sides = (width as f32, height as f32);
                (Drawing::Pixels(image), sides, "png")
            }
            PictureKind::Svg => {
                let tree = usvg::Tree::from_data(&bytes, &usvg::Options::default());
                let tree = tree.map_err(|_| PageError::Drawn)?;
                let sides = (tree.size().width(), tree.size().height());
                (Drawing::Shapes(Box::new(tree)), sides, "svg+xml")
            }
        };
        let scale = (ROOM.0 / width).min(ROOM.1 / height);
        Ok(Self {
            drawing,
            size: (width * scale, height * scale),
            address: format!("data:image/{mime};base64,{}", logo.picture),
        })
    }

    /// Draws it with its upper left corner at a place.
    pub(super) fn draw(&self, surface: &mut Surface<'_>, (x, y): (f32, f32)) {
        surface.push_transform(&Transform::from_translate(x, y));
        match &self.drawing {
            Drawing::Pixels(image) => {
                if let Some(room) = Size::from_wh(self.size.0, self.size.1) {
                    surface.draw_image(image.clone(), room);
                }
            }
            Drawing::Shapes(tree) => {
                let scale = self.size.0 / tree.size().width();
                surface.push_transform(&Transform::from_scale(scale, scale));
                group(surface, tree.root());
                surface.pop();
            }
        }
        surface.pop();
    }
}

fn group(surface: &mut Surface<'_>, of: &usvg::Group) {
    let opacity = NormalizedF32::new(of.opacity().get()).unwrap_or(NormalizedF32::ONE);
    surface.push_opacity(opacity);
    for node in of.children() {
        match node {
            usvg::Node::Group(inner) => group(surface, inner),
            usvg::Node::Path(path) if path.is_visible() => shape(surface, path),
            _ => {}
        }
    }
    surface.pop();
}

/// Colours alone: a picture that refers to a gradient is not taken.
fn shape(surface: &mut Surface<'_>, shape: &usvg::Path) {
    let Some(path) = outline(shape) else { return };
    let colour = |paint: &usvg::Paint| match paint {
        usvg::Paint::Color(colour) => rgb::Color::new(colour.red, colour.green, colour.blue),
        _ => rgb::Color::black(),
    };
    let share =
        |opacity: usvg::Opacity| NormalizedF32::new(opacity.get()).unwrap_or(NormalizedF32::ONE);
    let fill = shape.fill().map(|fill| Fill {
        paint: colour(fill.paint()).into(),
        opacity: share(fill.opacity()),
        rule: match fill.rule() {
            usvg::FillRule::NonZero => FillRule::NonZero,
            usvg::FillRule::EvenOdd => FillRule::EvenOdd,
        },
    });
    let stroke = shape.stroke().map(|stroke| Stroke {
        paint: colour(stroke.paint()).into(),
        width: stroke.width().get(),
        miter_limit: stroke.miterlimit().get(),
        line_cap: match stroke.linecap() {
            usvg::LineCap::Butt => LineCap::Butt,
            usvg::LineCap::Round => LineCap::Round,
            usvg::LineCap::Square => LineCap::Square,
        },
        line_join: match stroke.linejoin() {
            usvg::LineJoin::Round => LineJoin::Round,
            usvg::LineJoin::Bevel => LineJoin::Bevel,
            usvg::LineJoin::Miter | usvg::LineJoin::MiterClip => LineJoin::Miter,
        },
        opacity: share(stroke.opacity()),
        dash: None,
    });
    if fill.is_none() && stroke.is_none() {
        return;
    }
    let of = shape.abs_transform();
    let transform = Transform::from_row(of.sx, of.ky, of.kx, of.sy, of.tx, of.ty);
    surface.push_transform(&transform);
    surface.set_fill(fill);
    surface.set_stroke(stroke);
    surface.draw_path(&path);
    surface.set_fill(None);
    surface.set_stroke(None);
    surface.pop();
}

fn outline(shape: &usvg::Path) -> Option<Path> {
    let mut path = PathBuilder::new();
    for segment in shape.data().segments() {
        match segment {
            PathSegment::MoveTo(to) => path.move_to(to.x, to.y),
            PathSegment::LineTo(to) => path.line_to(to.x, to.y),
            PathSegment::QuadTo(by, to) => path.quad_to(by.x, by.y, to.x, to.y),
            PathSegment::CubicTo(one, two, to) => {
                path.cubic_to(one.x, one.y, two.x, two.y, to.x, to.y);
            }
            PathSegment::Close => path.close(),
        }
    }
    path.finish()
}
