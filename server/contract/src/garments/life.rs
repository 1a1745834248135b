//! The end of a garment: finished, delivered, cancelled.

#[cfg(feature = "clap")]
use crate::typed;
use crate::{Typed, act::act, garments::Garment};
use chrono::NaiveDate;
use ellwand_domain::{
    code::{BookingCode, GarmentCode},
    quantity::Micrometres,
    setting::Spoilage,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Finish a garment or a batch.
///
/// Remaining promises are released. In a batch some may be spoiled: the good ones carry the cost of normal spoilage;
/// after an own mistake the spoiled share, less what it still fetches, is a loss shown separately.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct FinishGarment {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// How many are good [default: all that are not spoiled].
    #[cfg_attr(feature = "clap", arg(long, value_name = "N"))]
    pub good: Option<i64>,
    /// How many are spoiled.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long, value_name = "N", default_value_t = 0))]
    pub spoiled: i64,
    /// Reason: normal or own-mistake; required if some are spoiled.
    #[cfg_attr(feature = "clap", arg(long, value_name = "REASON"))]
    pub spoilage: Option<Spoilage>,
    /// Confirm a garment of which nothing was cut, or on which no hours were logged, though both were planned.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long))]
    pub really: bool,
    /// What the spoiled ones still fetch, in the workshop's currency: 2.00.
    #[cfg_attr(
        feature = "clap",
        arg(long, value_name = "AMOUNT", requires = "spoilage")
    )]
    pub salvage: Option<String>,
    /// Day [default: today].
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(post FinishGarment => Garment, "finish_garment", "/v1/garments/{garment}/finish", "Finishes a garment or batch.");

/// Hand a finished garment over.
///
/// With `--finish` one that is cut and worked is finished first, all of it good; undo takes back both.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct DeliverGarment {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// Finish it first, all of it good, where that is not done yet.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long))]
    pub finish: bool,
    /// Confirm finishing a garment of which nothing was cut, or on which no hours were logged, though both were planned.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long, requires = "finish"))]
    pub really: bool,
    /// Day [default: today].
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(post DeliverGarment => Garment, "deliver_garment", "/v1/garments/{garment}/deliver", "Hands a finished garment over.");

/// Cancels a garment: its promises are released, and what was cut goes where `cut_material` says.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CancelGarment {
    /// Request id.
    pub id: Uuid,
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// Required if something was cut.
    pub cut_material: Option<CutMaterial>,
    /// Business date; default today.
    pub date: Option<NaiveDate>,
}
act!(post CancelGarment => Garment, "cancel_garment", "/v1/garments/{garment}/cancel", "Cancels a garment.");

/// What happens to material that was cut for a cancelled garment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub enum CutMaterial {
    /// It is lost: its cost is a loss.
    Loss,
    /// It goes to another garment with its cost.
    Garment(GarmentCode),
    /// Lengths go back on the shelf as new pieces with their cost; the rest is lost.
    Shelf(Vec<ReturnedLength>),
}

/// A length of what was cut that goes back on the shelf.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ReturnedLength {
    /// The booking of the cut.
    pub booking: BookingCode,
    /// Length or count that goes back.
    pub amount: String,
    /// Width; default the piece's.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub width: Option<Typed<Micrometres>>,
}
