//! A sheet as one HTML page that needs nothing else.

use super::{
    PageError,
    document::{Block, Document, Row},
};
use askama::Template;

#[derive(Template)]
#[template(path = "sheet.html")]
struct Page<'d> {
    document: &'d Document,
}

impl Document {
    /// The sheet as an HTML page. It holds its styles and pictures, no script, and asks for nothing from outside. It prints on A4.
    ///
    /// # Errors
    /// [`PageError::Template`], a fault of the program.
    pub fn html(&self) -> Result<String, PageError> {
        Ok(Page { document: self }.render()?)
    }
}
