//! What a booking keeps beside the ledger and its traces, as JSON in its `detail`.

use crate::desk::failure::Done;
use chrono::NaiveDate;
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    code::BookingCode,
    ledger::{Account, Flaw},
    setting::End,
};
use ellwand_storage::{Booking, Need, Operation, Seam, SeamAllowance};
use serde::{Deserialize, Serialize};

/// By kind of booking: what others read of it, and what neither the ledger nor its traces say.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "what")]
pub(crate) enum Detail {
    /// Nothing more.
    None {},
    /// A late charge: where it came from, its shares, of each lot together what the lot gained, and all of it in the workshop's currency. `priced`: the
    /// lot of which it was the price.
    Charged {
        from: Account,
        shares: Vec<ChargeShare>,
        home: i64,
        priced: Option<Priced>,
    },
    /// A piece was split, or a swatch was cut off it.
    Parted { off: Segment },
    /// A piece was measured, weighed or prepared.
    Remeasured { before: PieceBefore },
    /// Material was cut.
    Cut(Box<CutDetail>),
    /// A lay was kept.
    Laid { lay: i64 },
    /// A garment went from one state to another.
    Moved { garment: i64 },
    /// Another booking was taken back, and shares of late charges went along.
    Undone { moved: Vec<(i64, ChargeShare)> },
}

impl Detail {
    /// What a booking kept.
    pub(crate) fn of(booking: &Booking) -> Done<Self> {
        let unreadable = |error| {
            let code = BookingCode::new(booking.id);
            Problem::new(
                ProblemType::Internal,
                format!("what {code} kept cannot be read: {error}"),
            )
        };
        Ok(serde_json::from_str(&booking.detail).map_err(unreadable)?)
    }
}

/// A lot whose price was logged or corrected, with the price before, in minor units of its purchase; none: it was not known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Priced {
    pub(crate) lot: i64,
    pub(crate) was: Option<i64>,
    /// The price before was an estimate.
    pub(crate) estimated: bool,
}

/// A share of a late charge: the lot that bears it, where it lies, and millionths; what a credit takes is negative.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct ChargeShare {
    pub(crate) lot: i64,
    pub(crate) place: Account,
    pub(crate) value: i64,
}

/// A length that came off one end of a piece.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Segment {
    pub(crate) piece: i64,
    pub(crate) quantity: i64,
    pub(crate) end: End,
    /// Counted from where it begins.
    pub(crate) flaws: Vec<Flaw>,
    /// The piece that it became, whose flaws are its own.
    pub(crate) made: Option<i64>,
}

/// A garment's plan: what an edit can change of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct PlanKept {
    pub(crate) name: String,
    pub(crate) due: Option<NaiveDate>,
    pub(crate) customer: Option<i64>,
    /// Dropped ones are not in it.
    pub(crate) needs: Vec<Need>,
    pub(crate) operations: Vec<Operation>,
    pub(crate) seams: Vec<Seam>,
    /// None: the usual.
    pub(crate) allowance: Option<SeamAllowance>,
}

/// A garment's plan before and after an act.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct PlanChange {
    pub(crate) before: PlanKept,
    pub(crate) after: PlanKept,
}

/// A piece before it was measured or prepared, as far as its widths are worked out from that.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct PieceBefore {
    pub(crate) piece: i64,
    pub(crate) quantity: i64,
    pub(crate) full_width: Option<i64>,
    pub(crate) mass_factor_ppm: i64,
    /// The width after the act was worked out from the one before it, not measured.
    pub(crate) width_computed: bool,
}

/// A cut, as far as its undo needs it; the rest is in the row of the cut.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct CutDetail {
    pub(crate) piece: i64,
    /// Off the piece, waste of its rest not included.
    pub(crate) quantity: i64,
    /// Found by `piece_was` less what the book had said.
    pub(crate) measured: i64,
    /// Flaws that lay beyond what `piece_was` found, counted from there.
    pub(crate) flaws_beyond: Vec<Flaw>,
    /// Rest of the piece that was waste.
    pub(crate) wasted: i64,
    pub(crate) came_off: End,
    pub(crate) flaws: Vec<Flaw>,
    /// What lay before it, as a piece.
    pub(crate) outer: Option<i64>,
    /// The promise it was drawn from and by how much.
    pub(crate) reservation: Option<i64>,
    pub(crate) drawn: i64,
}
