//! Purchases: lines that make lots, and charges that join their cost.

#[cfg(feature = "clap")]
use crate::typed;
use crate::{Amount, Meta, Micro, act::act, sheets::SheetInput};
use chrono::NaiveDate;
use ellwand_domain::{
    code::{BookingCode, LotCode, MaterialCode, PieceCode, PurchaseCode, SupplierCode},
    purchase::ChargeKind,
    setting::{Kind, ReclaimBy},
};
use serde::{
    Deserialize, Deserializer, Serialize,
    de::{DeserializeOwned, Error as _},
};
use serde_json::{Map, Value};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Logs a purchase: each line becomes a lot. A file for `ellwand buy --file` is this in TOML.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Buy {
    /// Request id; a file leaves it out.
    #[serde(default = "Uuid::now_v7")]
    pub id: Uuid,
    /// Supplier by name (added if new) or code; absent for finds and gifts.
    pub supplier: Option<String>,
    /// Date of receipt; default today.
    pub date: Option<NaiveDate>,
    /// Number on the invoice.
    pub invoice: Option<String>,
    /// True for what was there when the book began: no supplier and no invoice; values may be estimated (`about 80.00`).
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub opening: bool,
    /// Currency of the invoice; default the workshop's.
    pub currency: Option<String>,
    /// Rate of the day: workshop currency for one of the invoice's, at most 10 digits after the point.
    pub rate: Option<String>,
    /// Instead of a rate: the amount paid in the workshop's currency, as on the card statement.
    pub home_amount: Option<String>,
    /// Note.
    pub note: Option<String>,
    /// What was bought.
    #[serde(rename = "line")]
    pub lines: Vec<LineInput>,
    /// Freight, duty, tax, discount; shared in this order.
    #[serde(rename = "charge", default, skip_serializing_if = "Vec::is_empty")]
    pub charges: Vec<ChargeInput>,
    /// True to book nothing: the answer is what would be logged, or all that is refused.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub check: bool,
    /// SHA-256 of the file that it was read from, in hexadecimal digits, so that the same file is not logged twice unasked.
    pub file_sha256: Option<String>,
    /// Confirms a purchase that was logged before, a stated growth above 20 %, a loss above 20 % lengthwise or 10 % crosswise, the first rate of a currency, or a rate more than 5 times off the last.
    #[serde(default)]
    pub really: bool,
}
act!(post Buy => Purchase, "buy", "/v1/purchases", "Logs a purchase, or says what would be logged; every line makes a lot."; tries);

/// One line of a purchase.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args), group(skip))]
pub struct LineInput {
    /// What was bought: its name or code, and the sheet of what is new.
    #[cfg_attr(feature = "clap", command(flatten))]
    pub material: MaterialInput,
    /// What was paid for: a length, a mass (`1.240kg`) or a count; absent for a lump sum. `about 200m` is estimated until it is
    /// measured.
    #[cfg_attr(feature = "clap", arg(long))]
    pub paid: Option<String>,
    /// Length (or count) measured on arrival, if it differs or nothing was stated.
    #[cfg_attr(feature = "clap", arg(long))]
    pub measured: Option<String>,
    /// Width of the pieces, where they are no full width of their lot: half of it (`70cm` of 140 cm), or the largest rectangle of
    /// cloth that was cut into.
    #[cfg_attr(feature = "clap", arg(long))]
    pub width: Option<String>,
    /// The lengths one by one, if the lot came in several pieces; they replace `measured`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long, value_delimiter = '+', value_parser = typed::trimmed))]
    pub pieces: Vec<String>,
    /// Thread: number of reels it came on, each a piece; known where reels were paid for (`3 reels`).
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::count))]
    pub reels: Option<i64>,
    /// Price of the line (`88.00`) or of a unit (`12.00/yd`); 0 for a gift, `unknown` where it is not known (yet).
    #[cfg_attr(
        feature = "clap",
        arg(
            long,
            required = true,
            value_name = "88.00, price=0 for a gift or price=unknown"
        )
    )]
    pub price: Option<String>,
    /// With an unknown price: what it would cost to buy again in the workshop's currency, of a unit (`12.50/m`) or all of it. It is
    /// for quoting alone.
    #[cfg_attr(feature = "clap", arg(long))]
    pub replacement: Option<String>,
    /// Mass of the line, when freight is shared by mass. For thread without a stated length, the mass of all reels together
    /// gives it, empty reels included where their tare is known.
    #[cfg_attr(feature = "clap", arg(long = "line-mass", id = "line_mass"))]
    pub mass: Option<String>,
    /// Place.
    #[cfg_attr(feature = "clap", arg(long))]
    pub place: Option<String>,
    /// Dye lot or roll number.
    #[cfg_attr(feature = "clap", arg(long))]
    pub dye_lot: Option<String>,
    /// Customer who brought it, by name or code. It costs nothing and is used only for them.
    #[cfg_attr(feature = "clap", arg(long))]
    pub owner: Option<String>,
    /// How it was prepared before it came: `washed`, `steamed`; absent: raw.
    #[cfg_attr(feature = "clap", arg(long))]
    pub preparation: Option<String>,
}

/// Material of a line: its code or name, and its sheet, all in one table.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args), group(skip))]
pub struct MaterialInput {
    /// A known material.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub code: Option<MaterialCode>,
    /// Kind of a new material.
    #[cfg_attr(feature = "clap", arg(long))]
    pub kind: Option<Kind>,
    /// Name; added if new.
    #[cfg_attr(
        feature = "clap",
        arg(long = "material", value_name = "navy wool", required = true)
    )]
    pub name: Option<String>,
    /// Technical data of this lot.
    #[serde(flatten)]
    #[cfg_attr(feature = "clap", command(flatten))]
    pub sheet: SheetInput,
}

/// By hand, because `flatten` would let unknown fields pass in silence.
impl<'de> Deserialize<'de> for MaterialInput {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        fn take<T: DeserializeOwned>(
            table: &mut Map<String, Value>,
            name: &str,
        ) -> Result<Option<T>, String> {
            let value = table.remove(name).unwrap_or(Value::Null);
            serde_json::from_value(value).map_err(|error| format!("{name}: {error}"))
        }
        let mut table = Map::deserialize(deserializer)?;
        Ok(Self {
            code: take(&mut table, "code").map_err(D::Error::custom)?,
            kind: take(&mut table, "kind").map_err(D::Error::custom)?,
            name: take(&mut table, "name").map_err(D::Error::custom)?,
            sheet: serde_path_to_error::deserialize(Value::Object(table))
                .map_err(D::Error::custom)?,
        })
    }
}

/// A charge on a purchase.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ChargeInput {
    /// Kind of charge.
    pub kind: ChargeKind,
    /// In the invoice's currency; a discount may be typed with or without its minus.
    pub amount: String,
    /// `value`, `length`, `mass`, `count`, or `taxed` (a line plus its share of the charges named in `on`).
    #[serde(default = "by_value")]
    pub share: ShareKey,
    /// With `taxed`: numbers of earlier charges, from 1, whose shares are taxed too.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub on: Vec<usize>,
    /// Lines to share it over, by number from 1; empty: all.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lines: Vec<usize>,
    /// For a tax: true if the workshop gets it back, so that it is no cost; absent: by the workshop's setting on the day of the
    /// purchase, and a cost where there is none.
    pub reclaim: Option<bool>,
}

fn by_value() -> ShareKey {
    ShareKey::Value
}

/// Key by which a charge is shared over the lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub enum ShareKey {
    /// Price of the line.
    Value,
    /// Length.
    Length,
    /// Mass.
    Mass,
    /// Count.
    Count,
    /// Price plus the line's share of named charges.
    Taxed,
}

/// Adds a charge or a credit note to a purchase later.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct AddCharge {
    /// Request id.
    pub id: Uuid,
    /// Purchase code, such as P8.
    pub purchase: PurchaseCode,
    /// The charge; a credit is a negative amount.
    pub charge: ChargeInput,
    /// Currency of the charge; default the workshop's.
    pub currency: Option<String>,
    /// Rate of the day, for another currency.
    pub rate: Option<String>,
    /// Business date; default today.
    pub date: Option<NaiveDate>,
    /// Confirms the first rate of a currency, or one more than 5 times off the last.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub really: bool,
}
act!(post AddCharge => Purchase, "add_charge", "/v1/purchases/{purchase}/charges", "Adds a late charge or credit to a purchase.");

/// Log the price of a lot that came without one, or correct that of opening stock.
///
/// What it adds or takes off is shared like a late charge: what is still here and unfinished garments get theirs, the rest is an adjustment.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct PriceLot {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Lot code, such as L7.
    pub lot: LotCode,
    /// What all of it cost in the currency of its purchase, or a unit of what was paid for: 24.00, 12.00/m; 0 for a gift.
    pub price: String,
    /// Rate of the day it came, for another currency [default: that of its purchase].
    #[cfg_attr(feature = "clap", arg(long, value_name = "RATE", value_parser = typed::rate))]
    pub rate: Option<String>,
    /// Business date [default: today].
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
    /// Confirm the first rate of a currency, or one more than 5 times off the last.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long))]
    pub really: bool,
}
act!(post PriceLot => Purchase, "price_lot", "/v1/lots/{lot}/price", "Logs the price of a lot that came without one, or corrects that of opening stock.");

/// Show a purchase with its landed costs.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GetPurchase {
    /// Purchase code, such as P8.
    #[cfg_attr(feature = "clap", arg(value_name = "CODE"))]
    pub purchase: PurchaseCode,
}
act!(read GetPurchase => Purchase, "get_purchase", "/v1/purchases/{purchase}", "Returns a purchase with its landed costs.", needs Prices);

/// List purchases, newest first.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct ListPurchases {
    /// Continue after this mark from the previous page.
    #[cfg_attr(feature = "clap", arg(long, value_name = "MARK"))]
    pub after: Option<String>,
    /// Rows to show, at most 200.
    #[cfg_attr(feature = "openapi", schema(minimum = 1, maximum = 200))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "NUMBER"))]
    pub limit: Option<u32>,
}
act!(read ListPurchases => Purchases, "list_purchases", "/v1/purchases", "Lists purchases, newest first.", needs Prices);

/// A page of purchases.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Purchases {
    /// Newest first.
    pub purchases: Vec<PurchaseHead>,
    /// Next page.
    pub meta: Meta,
}

/// A purchase in a list.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PurchaseHead {
    /// Code.
    pub purchase: PurchaseCode,
    /// Supplier's name.
    pub supplier: Option<String>,
    /// Day of receipt.
    pub date: NaiveDate,
    /// Number on the invoice.
    pub invoice: Option<String>,
    /// True for what was there when the book began.
    pub opening: bool,
    /// Total in the workshop's currency.
    pub home_total: Micro,
    /// True when it was undone.
    pub taken_back: bool,
}

/// A purchase with its landed costs.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Purchase {
    /// Code.
    pub purchase: PurchaseCode,
    /// The booking that received it; in the answer to a late charge, the charge's own.
    pub booking: BookingCode,
    /// Supplier's code.
    pub supplier_code: Option<SupplierCode>,
    /// Supplier's name.
    pub supplier: Option<String>,
    /// Day of receipt.
    pub date: NaiveDate,
    /// Number on the invoice.
    pub invoice: Option<String>,
    /// True for what was there when the book began.
    pub opening: bool,
    /// Currency of the invoice.
    pub currency: String,
    /// Rate, when converted by one.
    pub rate: Option<String>,
    /// What the goods cost by the invoice, in its currency, decimal string; tax that is reclaimed is not in it.
    pub invoice_total: String,
    /// Tax that is reclaimed, on the invoice or late, in the invoice's currency, decimal string; in no total.
    pub reclaimed_total: String,
    /// The workshop's currency.
    pub home_currency: String,
    /// Invoice total in the workshop's currency, before late charges.
    pub invoice_home: Micro,
    /// Total in the workshop's currency, late charges included.
    pub home_total: Micro,
    /// Lines.
    pub lines: Vec<PurchaseLine>,
    /// Charges of the invoice and late ones.
    pub charges: Vec<PurchaseCharge>,
    /// Remarks: short deliveries, fall-back keys.
    pub notes: Vec<String>,
}

/// A line with its landed cost.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PurchaseLine {
    /// The lot that it became.
    pub lot: LotCode,
    /// Its pieces.
    pub pieces: Vec<PieceCode>,
    /// Material's name.
    pub name: String,
    /// Quantity paid for, as typed.
    pub paid: Option<String>,
    /// Received.
    pub measured: Amount,
    /// Price in the invoice's currency, decimal string; null while it is not known.
    pub price: Option<String>,
    /// True where that was estimated.
    pub estimated: bool,
    /// Price and charges in the invoice's currency, decimal string.
    pub invoice_amount: String,
    /// Landed cost in the workshop's currency, late charges included.
    pub landed: Micro,
}

/// A charge as booked.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PurchaseCharge {
    /// Kind of charge.
    pub kind: ChargeKind,
    /// Decimal string in `currency`.
    pub amount: String,
    /// Currency.
    pub currency: String,
    /// Key.
    pub share: ShareKey,
    /// True when it was added after the goods arrived.
    pub late: bool,
    /// Amount of a late charge in the workshop's currency.
    pub home: Option<Micro>,
    /// Each line's share in `currency`, decimal strings.
    pub shares: Vec<String>,
    /// For a tax: true when it is reclaimed and so no cost. Null for other charges, and where it is not decided yet.
    pub reclaimed: Option<bool>,
    /// What decides it.
    pub reclaim_by: Option<ReclaimBy>,
    /// Day from which the setting applies.
    pub reclaim_from: Option<NaiveDate>,
}
