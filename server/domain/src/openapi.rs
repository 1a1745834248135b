//! Schemas of types that travel as text, for the API's document.

use crate::{
    code::{
        BookingCode, CustomerCode, GarmentCode, LayCode, LotCode, MaterialCode, PieceCode,
        PurchaseCode, QuotationCode, ReservationCode, SupplierCode, TokenCode,
    },
    shrinkage::Preparation,
};
use utoipa::{
    PartialSchema, ToSchema,
    openapi::{ObjectBuilder, RefOr, Schema, Type},
};

/// Schema of a text of this form.
fn text(description: &str, pattern: &str, examples: &[&str]) -> RefOr<Schema> {
    ObjectBuilder::new()
        .schema_type(Type::String)
        .description(Some(description))
        .pattern(Some(pattern))
        .examples(examples.iter().copied())
        .into()
}

macro_rules! text_schema {
    ($($name:ty: $description:literal, $pattern:literal, [$($example:literal),+];)+) => {
        $(
            impl PartialSchema for $name {
                fn schema() -> RefOr<Schema> {
                    text($description, $pattern, &[$($example),+])
                }
            }

            impl ToSchema for $name {}
        )+
    };
}

text_schema! {
    MaterialCode: "The code of a material.", "^[Mm]0*[1-9][0-9]{0,17}$", ["M3"];
    LotCode: "The code of a lot.", "^[Ll]0*[1-9][0-9]{0,17}$", ["L17"];
    PurchaseCode: "The code of a purchase.", "^[Pp]0*[1-9][0-9]{0,17}$", ["P8"];
    GarmentCode: "The code of a garment.", "^[Gg]0*[1-9][0-9]{0,17}$", ["G5"];
    ReservationCode: "The code of a reservation.", "^[Rr]0*[1-9][0-9]{0,17}$", ["R12"];
    BookingCode: "The code of a booking.", "^[Bb]0*[1-9][0-9]{0,17}$", ["B104"];
    SupplierCode: "The code of a supplier.", "^[Ss]0*[1-9][0-9]{0,17}$", ["S2"];
    CustomerCode: "The code of a customer.", "^[Cc]0*[1-9][0-9]{0,17}$", ["C4"];
    TokenCode: "The code of a token.", "^[Tt]0*[1-9][0-9]{0,17}$", ["T6"];
    QuotationCode: "The code of a quotation.", "^[Qq]0*[1-9][0-9]{0,17}$", ["Q3"];
    LayCode: "The code of a kept lay.", "^[Yy]0*[1-9][0-9]{0,17}$", ["Y7"];
    PieceCode: "The code of a piece: its lot and its number in the lot; in a request a lot alone stands for its only piece.", r"^[Ll]0*[1-9][0-9]{0,17}(\.0*[1-9][0-9]{0,17})?$", ["L17.2"];
    Preparation: "What is done to cloth before it is cut; `none` is a decision, not \"unknown\".",
        "^(none|raw|washed( x[1-9][0-9]{0,2})?|steamed)$", ["washed", "washed x3", "steamed", "none", "raw"];
}
