//! What a booking keeps for its own undo and for the cost sheet, as JSON in its `detail`.

use crate::quotations::promised::Ends;
use chrono::NaiveDate;
use ellwand_contract::stiffness::GrainStiffness;
use ellwand_domain::{
    certainty::Certainty,
    ledger::Flaw,
    quantity::Milligrams,
    setting::{CutReason, End, GarmentState, Kind, QuotationState, WorkKind},
    shrinkage::Preparation,
};
use serde::{Deserialize, Serialize};

/// By kind of booking.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "what")]
pub(crate) enum Detail {
    /// Nothing beyond the movements.
    None {},
    /// A purchase.
    Bought { purchase: i64, lots: Vec<i64> },
    /// A late charge: what each line and lot gained (millionths, signed).
    Charged {
        purchase: i64,
        gains: Vec<LineGain>,
        home: i64,
    },
    /// A lot's sheet before and after.
    Edited {
        lot: i64,
        before: String,
        after: String,
        /// The dye lot before, and where each piece lay, when they changed.
        #[serde(default)]
        dye_lot: Option<DyeLotBefore>,
        #[serde(default)]
        places: Vec<(i64, Option<String>)>,
        /// Pieces whose widths followed the sheet, as they were.
        #[serde(default)]
        widths: Vec<PieceBefore>,
        /// Pieces whose length or count by weight was worked out anew, as they were.
        #[serde(default)]
        weighed: Vec<PieceBefore>,
    },
    /// A piece was put elsewhere.
    Placed { piece: i64, before: Option<String> },
    /// Flaws before and after.
    Flawed {
        piece: i64,
        before: Vec<Flaw>,
        structure: i64,
    },
    /// A piece was split.
    Split {
        piece: i64,
        made: i64,
        quantity: i64,
        end: End,
        flaws: Vec<Flaw>,
        structure: i64,
    },
    /// A piece was measured, weighed, swatched or prepared: how it was before.
    Remeasured { before: PieceBefore },
    /// A wash test, and the swatch's effect if one was cut: the piece before, and the strip beside the swatch.
    Tested {
        lot: i64,
        before: Option<PieceBefore>,
        #[serde(default)]
        strip: Option<i64>,
    },
    /// A lot's stiffness was tested: what was known of it before and after.
    Stiffened {
        lot: i64,
        before: Box<StiffnessKept>,
        after: Box<StiffnessKept>,
    },
    /// A garment was planned. `edited`: its plan was changed, by a program that did not keep the former one yet.
    Planned {
        garment: i64,
        #[serde(default)]
        edited: bool,
    },
    /// A garment's plan before and after it was changed.
    Replanned {
        garment: i64,
        before: Box<PlanKept>,
        after: Box<PlanKept>,
    },
    /// The books were closed up to a day.
    Closed {
        before: Option<NaiveDate>,
        to: NaiveDate,
    },
    /// Promises were made.
    Reserved { reservations: Vec<i64> },
    /// Promises were given back: number, piece and what each held.
    Released { reservations: Vec<i64> },
    /// Material was cut.
    Cut(Box<CutDetail>),
    /// Minutes were worked.
    Worked { work: i64, garment: i64 },
    /// A garment went from one state to another.
    Moved {
        garment: i64,
        before: GarmentState,
        released: Vec<i64>,
        made: Vec<i64>,
        /// Quotations that were closed with it.
        #[serde(default)]
        closed: Vec<i64>,
    },
    /// A version of a quotation was made.
    Quoted {
        quotation: i64,
        version: i64,
        /// Promises that were made with it.
        #[serde(default)]
        reservations: Vec<i64>,
        /// The last day before, of promises that were made with an earlier version.
        #[serde(default)]
        moved: Ends,
    },
    /// A version was accepted, with the promises it made.
    Accepted {
        quotation: i64,
        reservations: Vec<i64>,
        /// The plan before and after, where an option was accepted that changed it.
        #[serde(default)]
        plan: Option<Box<PlanChange>>,
        /// The last day before, of promises that were made while it was open.
        #[serde(default)]
        kept: Ends,
    },
    /// A payment was logged.
    Paid { quotation: i64 },
    /// A quotation was closed or cancelled.
    Dropped {
        quotation: i64,
        before: QuotationState,
        #[serde(default)]
        released: Vec<i64>,
    },
    /// It was said what a detail was worth; the rating before and its booking.
    Rated {
        garment: i64,
        detail: String,
        before: Option<(i64, i64)>,
    },
    /// Another booking was taken back.
    Undone { booking: i64 },
}

/// What a lot's sheet knows of its stiffness.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct StiffnessKept {
    pub(crate) lengthwise: Option<String>,
    pub(crate) crosswise: Option<String>,
    pub(crate) bias: Option<String>,
    pub(crate) certainty: Option<Certainty>,
    pub(crate) found: Vec<GrainStiffness>,
}

/// A garment's plan: what an edit can change of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct PlanKept {
    pub(crate) name: String,
    pub(crate) due: Option<NaiveDate>,
    pub(crate) needs: Vec<NeedKept>,
    pub(crate) operations: Vec<OperationKept>,
    #[serde(default)]
    pub(crate) seams: Vec<SeamKept>,
    /// Ends (micrometres) and waste (millionths) of the seams' thread; none: the usual.
    #[serde(default)]
    pub(crate) seam_allowance: Option<(i64, i64)>,
}

/// A seam of a plan.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct SeamKept {
    pub(crate) position: i64,
    pub(crate) seam: String,
}

/// A garment's plan before and after an act.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct PlanChange {
    pub(crate) before: PlanKept,
    pub(crate) after: PlanKept,
}

/// A need of a plan; what was cut of it is not in it, and dropped ones are not in the plan.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct NeedKept {
    pub(crate) id: i64,
    pub(crate) kind: Kind,
    pub(crate) need: String,
    pub(crate) units: i64,
    pub(crate) estimate: Option<i64>,
    /// The garment's detail that it belongs to.
    #[serde(default)]
    pub(crate) detail: Option<String>,
}

/// An operation of a plan.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct OperationKept {
    pub(crate) name: String,
    pub(crate) position: i64,
    pub(crate) kind: WorkKind,
    pub(crate) minutes: i64,
    pub(crate) person_id: i64,
    pub(crate) billable: bool,
    /// The garment's detail that it belongs to.
    #[serde(default)]
    pub(crate) detail: Option<String>,
}

/// The dye lot before it was changed; none is a value, too.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct DyeLotBefore {
    pub(crate) was: Option<String>,
}

/// What a late charge added to a line and its lot.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct LineGain {
    pub(crate) position: i64,
    pub(crate) lot: i64,
    pub(crate) gain: i64,
}

const fn no_heavier() -> i64 {
    ellwand_domain::cloth::NO_HEAVIER
}

/// A piece before it was measured or prepared.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct PieceBefore {
    pub(crate) piece: i64,
    pub(crate) quantity: i64,
    pub(crate) full_width: Option<i64>,
    pub(crate) selvedges: Option<i64>,
    pub(crate) preparation: Option<Preparation>,
    pub(crate) prepared: Option<NaiveDate>,
    #[serde(default = "no_heavier")]
    pub(crate) mass_factor_ppm: i64,
    #[serde(default)]
    pub(crate) tare: Option<Milligrams>,
    #[serde(default)]
    pub(crate) estimated: bool,
    pub(crate) flaws: Vec<Flaw>,
    /// The piece's structure after the act: undone only while it is still this.
    pub(crate) structure: i64,
    /// The width after the act was worked out from the one before it, not measured.
    #[serde(default)]
    pub(crate) width_computed: bool,
}

/// A cut.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct CutDetail {
    pub(crate) garment: i64,
    pub(crate) need: i64,
    pub(crate) role: String,
    pub(crate) reason: CutReason,
    pub(crate) piece: i64,
    pub(crate) lot: i64,
    /// Off the piece, waste of its rest not included.
    pub(crate) quantity: i64,
    /// Found by `piece_was` less what the book had said.
    #[serde(default)]
    pub(crate) measured: i64,
    /// Flaws that lay beyond what `piece_was` found, counted from there.
    #[serde(default)]
    pub(crate) flaws_beyond: Vec<Flaw>,
    /// Rest of the piece that was waste.
    pub(crate) wasted: i64,
    /// Width of a panel.
    pub(crate) panel_width: Option<i64>,
    pub(crate) came_off: End,
    pub(crate) flaws: Vec<Flaw>,
    /// The piece's structure after the cut.
    pub(crate) structure: i64,
    /// Pieces it made.
    pub(crate) strip: Option<i64>,
    pub(crate) outer: Option<i64>,
    /// The promise it was drawn from and by how much.
    pub(crate) reservation: Option<i64>,
    pub(crate) drawn: i64,
    /// What the promise held before.
    pub(crate) held_before: i64,
    /// Units of the need that it served.
    pub(crate) units: i64,
}
