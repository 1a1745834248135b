//! The closed lists of the book: kinds, reasons, states, choices.

use serde::{Deserialize, Serialize};
use std::{fmt, str::FromStr};

/// A word that is not in a closed list.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("\"{text}\" is not {what}; it is one of {known}")]
pub struct WordError {
    /// What was typed.
    pub text: String,
    /// What the list is, with its article.
    pub what: &'static str,
    /// The list.
    pub known: &'static str,
}

macro_rules! words {
    ($(#[$doc:meta])* $name:ident, $what:literal, { $($(#[$vdoc:meta])* $variant:ident = $word:tt),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
        #[cfg_attr(feature = "diesel", derive(diesel::expression::AsExpression, diesel::deserialize::FromSqlRow))]
        #[cfg_attr(feature = "diesel", diesel(sql_type = diesel::sql_types::Text))]
        pub enum $name {
            $($(#[$vdoc])* #[serde(rename = $word)] $variant,)+
        }

        impl $name {
            /// All, in the order of the list.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The word as typed, stored and sent.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(self.word())
            }
        }

        impl FromStr for $name {
            type Err = WordError;
            fn from_str(text: &str) -> Result<Self, WordError> {
                match text.trim().to_lowercase().replace([' ', '_'], "-").as_str() {
                    $($word => Ok(Self::$variant),)+
                    _ => Err(WordError {
                        text: text.to_owned(),
                        what: $what,
                        known: concat!($($word, ", "),+).trim_end_matches(", "),
                    }),
                }
            }
        }

        #[cfg(feature = "diesel")]
        $crate::column::text!($name);
    };
}

words!(
    /// What a booking touched, for the history of a record.
    Subject, "a subject of a booking", {
        /// A garment.
        Garment = "garment",
        /// A lot.
        Lot = "lot",
        /// A purchase.
        Purchase = "purchase",
    }
);

words!(
    /// What a material is.
    Kind, "a kind of material", {
        /// Cloth, cut from pieces.
        Cloth = "cloth",
        /// Interlining, cut from pieces.
        Interlining = "interlining",
        /// Sewing thread, by length.
        Thread = "thread",
        /// Buttons, zips, tape: by count or by length.
        Trim = "trim",
    }
);

impl Kind {
    /// True for kinds whose value sits on the piece; the others are pooled in cost layers.
    #[must_use]
    pub const fn is_rectangle(self) -> bool {
        matches!(self, Self::Cloth | Self::Interlining)
    }
}

words!(
    /// How a trim is kept.
    TrimUnit, "a unit of a trim", {
        /// Counted.
        Count = "count",
        /// Measured.
        Length = "length",
    }
);
words!(
    /// Units people read.
    UnitSystem, "a system of units", {
        /// Metres, centimetres, grams.
        Metric = "metric",
        /// Yards, inches, ounces.
        Imperial = "imperial",
    }
);
words!(
    /// What a kept side strip or offcut is worth.
    OffcutValue, "a worth of offcuts", {
        /// Its share of the piece's value by area.
        Area = "area",
        /// Nothing: all cost rides on the garment.
        Zero = "zero",
    }
);
words!(
    /// How thread and trims are valued. Taking the newest first is refused (IAS 2 paras 23–27).
    PooledMethod, "a way to value thread and trims", {
        /// First in, first out: one layer per lot.
        Fifo = "fifo",
        /// Moving average: one pool per material.
        Average = "average",
    }
);
words!(
    /// End of a piece: the outer one lies outside on the roll.
    #[derive(Default)]
    End, "an end of a piece", {
        /// The outer end; positions run from it.
        #[default]
        Outer = "outer",
        /// The inner end.
        Inner = "inner",
    }
);
words!(
    /// After what a piece was measured.
    #[derive(Default)]
    MeasuredAfter, "an occasion to measure", {
        /// On arrival, or to correct an earlier figure.
        #[default]
        Arrival = "arrival",
        /// After washing.
        Washing = "washing",
        /// After pressing.
        Pressing = "pressing",
        /// After resting off the roll.
        Resting = "resting",
        /// At a count of the shelf.
        Counting = "counting",
    }
);
words!(
    /// Why cloth is cut or trims are taken.
    CutReason, "a reason to cut", {
        /// As planned.
        Planned = "planned",
        /// Cut again after an own mistake: a loss, shown apart.
        OwnMistake = "own-mistake",
        /// Cut again because the cloth was faulty: a loss, shown apart.
        FaultyCloth = "faulty-cloth",
        /// Cut again because the customer changed their mind: on the garment, shown apart.
        CustomerChange = "customer-change",
        /// A toile: on the garment.
        Toile = "toile",
        /// A test swatch: quantity without value.
        Swatch = "swatch",
    }
);
words!(
    /// Kind of work.
    WorkKind, "a kind of work", {
        /// At the machine.
        Machine = "machine",
        /// By hand.
        Hand = "hand",
        /// Cutting.
        Cutting = "cutting",
        /// Fitting.
        Fitting = "fitting",
        /// Pressing.
        Pressing = "pressing",
        /// Letters, orders, books.
        Admin = "admin",
    }
);
words!(
    /// Why minutes were worked that the plan did not have.
    WorkReason, "a reason for extra work", {
        /// As planned, or slow.
        Planned = "planned",
        /// To mend an own mistake: a loss, shown apart.
        OwnMistake = "own-mistake",
        /// To replace faulty cloth: a loss, shown apart.
        FaultyCloth = "faulty-cloth",
        /// Because the customer changed their mind: on the garment, shown apart.
        CustomerChange = "customer-change",
    }
);
words!(
    /// Why garments of a batch were spoiled.
    Spoilage, "a reason for spoiled garments", {
        /// To be expected: its cost rides on the good ones.
        Normal = "normal",
        /// An own mistake: a loss, shown apart.
        OwnMistake = "own-mistake",
    }
);
words!(
    /// A direction in cloth.
    Grain, "a grain", {
        /// Along the warp.
        Lengthwise = "lengthwise",
        /// Along the weft.
        Crosswise = "crosswise",
        /// 45° to both.
        Bias = "bias",
    }
);
words!(
    /// Whether the measures of a shell part hold its seam allowance.
    Measured, "a way to measure a part", {
        /// As the shell part is cut, its seam allowance in it.
        With = "with",
        /// From seam to seam.
        Without = "without",
    }
);
words!(
    /// How a part is cut beside its seams.
    PartCut, "a way to cut a part", {
        /// Without the seam allowance, so that it lies inside the seams (common practice for canvas).
        Inside = "inside",
        /// With the seam allowance, caught in the seams.
        With = "with",
    }
);
words!(
    /// How a stiffness was found: which test or formula is behind the figure.
    StiffnessMethod, "a way to find a stiffness", {
        /// Overhangs of strips on a 41.5° cantilever; the bending length is half of it.
        HalfOverhang = "half-overhang",
        /// A bending length.
        BendingLength = "bending-length",
        /// A rigidity as printed by a FAST or BS tester, w·g0·c³.
        Rigidity = "rigidity",
        /// A rigidity as ISO 9073-7 prints it.
        Iso9073 = "iso-9073-7",
        /// A rigidity as ASTM D1388 prints it, with its SI constant.
        AstmD1388 = "astm-d1388",
        /// A rigidity of a pure bending tester (KES).
        Kes = "kes",
    }
);
words!(
    /// How a rigidity in a direction is known.
    StiffnessWay, "a way to know a stiffness", {
        /// One of the directions that were tested.
        Tested = "tested",
        /// Peirce's rule between lengthwise and crosswise.
        Peirce = "peirce",
        /// Peirce's form between neighbouring tested directions, a bias strip among them (ours; three directions are
        /// enough for most purposes: Cooper 1960, abstract).
        Between = "between",
    }
);
words!(
    /// Where a garment is in its life.
    GarmentState, "a state of a garment", {
        /// Nothing used yet.
        Planned = "planned",
        /// Something was cut for it.
        CutInto = "cut-into",
        /// Finished, in stock.
        Finished = "finished",
        /// With the customer.
        Delivered = "delivered",
        /// Given up.
        Cancelled = "cancelled",
    }
);
words!(
    /// Where a reservation is in its life; it leaves `active` exactly once.
    ReservationState, "a state of a reservation", {
        /// Promised.
        Active = "active",
        /// Used up by cuts.
        Cut = "cut",
        /// Given back.
        Released = "released",
        /// Its day has passed.
        Expired = "expired",
        /// Another act made it impossible.
        Broken = "broken",
    }
);
words!(
    /// What a reserved length was computed on.
    Basis, "a basis of a reservation", {
        /// The piece still has to be prepared; shrinkage is in the length.
        Raw = "raw",
        /// The piece is as the need wants it.
        Prepared = "prepared",
    }
);
words!(
    /// Where an estimate of time comes from.
    EstimateBasis, "a source of an estimate", {
        /// Past garments of the same name.
        LikeGarments = "like-garments",
        /// Past garments of any name.
        AllGarments = "all-garments",
        /// The typical minutes of a usual operation.
        UsualOperation = "usual-operation",
        /// The garment's own plan.
        Plan = "plan",
    }
);
words!(
    /// What a booking did.
    BookingKind, "a kind of booking", {
        /// A purchase came in.
        Bought = "bought",
        /// A late charge or credit.
        Charged = "charged",
        /// A lot's sheet changed.
        Edited = "edited",
        /// A piece was put elsewhere.
        Placed = "placed",
        /// A flaw was marked or taken away.
        Flawed = "flawed",
        /// A piece was made into two.
        Split = "split",
        /// A piece was measured or weighed.
        Measured = "measured",
        /// A wash test.
        Tested = "tested",
        /// A piece was washed or steamed.
        Prepared = "prepared",
        /// A garment was planned or its plan changed.
        Planned = "planned",
        /// Cloth was promised.
        Reserved = "reserved",
        /// A promise was given back.
        Released = "released",
        /// A promise's day had passed.
        Expired = "expired",
        /// Cloth was cut or trims were taken.
        Cut = "cut",
        /// Minutes were worked.
        Worked = "worked",
        /// A garment was finished.
        Finished = "finished",
        /// A garment was delivered.
        Delivered = "delivered",
        /// A garment was cancelled.
        Cancelled = "cancelled",
        /// A quotation was made, or a new version of it.
        Quoted = "quoted",
        /// A version of a quotation was accepted.
        Accepted = "accepted",
        /// A payment was logged.
        Paid = "paid",
        /// A quotation came to nothing, or was cancelled.
        Dropped = "dropped",
        /// It was said what a detail was worth.
        Rated = "rated",
        /// The books were closed up to a day.
        Closed = "closed",
        /// Another booking was taken back.
        Undone = "undone",
    }
);
words!(
    /// What an act can write over: it belongs to the last standing booking that did.
    Facet, "a facet", {
        /// Where a piece lies.
        Place = "place",
        /// How long a piece is said to be, or how many it are.
        Length = "length",
        /// The flaws of a piece.
        Flaws = "flaws",
        /// What a piece measures across.
        Widths = "widths",
        /// What was done to a piece before it is cut.
        Preparation = "preparation",
        /// What the empty reel or core of a piece weighs.
        Tare = "tare",
        /// A field of a lot's sheet.
        Sheet = "sheet",
        /// The plan of a garment.
        Plan = "plan",
        /// How far a garment has come.
        Garment = "garment",
        /// What became of a quotation.
        Quotation = "quotation",
        /// What a detail of a garment was worth.
        Rating = "rating",
        /// Up to when the books are closed.
        Books = "books",
        /// Where the shares of a late charge lie.
        Charge = "charge",
    }
);
words!(
    /// What a person of the workshop may do.
    Role, "a role", {
        /// Everything.
        Owner = "owner",
        /// The daily work, and what is granted beside it.
        Maker = "maker",
        /// Reading, without prices unless granted.
        Viewer = "viewer",
    }
);
words!(
    /// What is granted beside a role.
    Grant, "a grant", {
        /// To see prices, costs and stock values.
        Prices = "prices",
        /// To see and set what hours cost, and so the cost sheet.
        PayRates = "pay-rates",
        /// To give up cut material that no other garment takes over, and to take that back. What a day's work spoils,
        /// and what a new measure finds missing, is daily work.
        WriteOffs = "write-offs",
        /// To change the workshop's settings.
        Settings = "settings",
        /// To close the books, and to prove them.
        Books = "books",
        /// To give out tokens and take them back.
        People = "people",
    }
);
words!(
    /// How an amount between two steps is brought to one of them; negative amounts as their opposites.
    Rounding, "a way to round", {
        /// To the nearest; the half away from zero.
        HalfUp = "half-up",
        /// To the nearest; the half towards zero.
        HalfDown = "half-down",
        /// To the nearest; the half to the even step.
        HalfEven = "half-even",
        /// Towards zero: what is over is dropped.
        Down = "down",
    }
);
words!(
    /// What a charge is for.
    ChargeKind, "a kind of charge", {
        /// Carriage, postage, handling.
        Freight = "freight",
        /// Import duty.
        Duty = "duty",
        /// Tax on goods or charges: a cost, unless it is reclaimed.
        Tax = "tax",
        /// Discount or rebate: a negative amount.
        Discount = "discount",
        /// Anything else that belongs to the purchase.
        Other = "other",
    }
);
words!(
    /// What says whether the tax of a purchase is reclaimed.
    ReclaimBy, "a ground for reclaiming tax", {
        /// The charge itself, as it was typed.
        Charge = "charge",
        /// The workshop's setting on the day of the purchase.
        Setting = "setting",
        /// Nothing: there is no setting for that day, so that the tax is a cost.
        Unset = "unset",
    }
);
words!(
    /// Where tax is rounded.
    TaxPlace, "a place to round tax", {
        /// On every line.
        Line = "line",
        /// Once per tax rate.
        Rate = "rate",
        /// Once per invoice.
        Invoice = "invoice",
    }
);
words!(
    /// What prices hold.
    PricesShown, "a way to show prices", {
        /// Net: tax comes on top.
        WithoutTax = "without-tax",
        /// Gross: tax is inside.
        WithTax = "with-tax",
    }
);
words!(
    /// What a stage of payment is a share of.
    ShareOf, "a part of a price", {
        /// All of it, tax included.
        Gross = "gross",
        /// The labour.
        Labour = "labour",
        /// The materials.
        Materials = "materials",
    }
);
words!(
    /// Where a quotation stands.
    QuotationState, "a quotation's state", {
        /// It may be accepted until its last day.
        Open = "open",
        /// Its newest version was accepted.
        Accepted = "accepted",
        /// It came to nothing.
        Closed = "closed",
        /// It was accepted, and then cancelled.
        Cancelled = "cancelled",
    }
);
words!(
    /// What a quotation rests on.
    PriceFrom, "a basis of a price", {
        /// The plan and the estimates.
        Plan = "plan",
        /// What the garment did cost.
        Actual = "actual",
    }
);
words!(
    /// Where materials are priced.
    MaterialsAt, "a way to price materials", {
        /// What their own lot cost.
        Cost = "cost",
        /// What was paid for the like at last.
        Replacement = "replacement",
    }
);
