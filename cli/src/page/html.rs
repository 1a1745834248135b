//! A sheet as one HTML page that needs nothing else.

use super::{
    PageError,
    document::{Block, Document, Row},
    sheet,
};
use askama::Template;
use ellwand_contract::quotations::Quotation;

#[derive(Template)]
#[template(path = "sheet.html")]
struct Page<'d> {
    document: &'d Document,
}

/// A quotation as an HTML page: the customer's sheet, or the workshop's when `inside`.
///
/// The page holds its styles and pictures, no script, and asks for nothing from outside. It prints on A4.
///
/// # Errors
/// [`PageError::Hidden`] when the workshop's sheet is requested and `quotation` has none.
pub fn html(quotation: &Quotation, inside: bool) -> Result<String, PageError> {
    let document = sheet(quotation, inside)?;
    Ok(Page {
        document: &document,
    }
    .render()?)
}
