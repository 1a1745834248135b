//! Records as the tables hold them. JSON columns are the service's own; quantities and values are the
//! integers of the domain.

mod booking;
mod cut;
mod garment;
mod lot;
mod overhead;
mod party;
mod piece;
mod purchase;
mod quotation;
mod sale;
mod token;
mod workshop;

pub use booking::{Booking, BookingFilter, BookingSubject, Request, Trace};
pub use cut::{CutEntry, CutOfLine, StandingCut, StandingPromise};
pub use garment::{
    DetailRating, Garment, Lay, LayRung, Need, Operation, PastMinutes, PlannedCost, PooledPromise,
    Reservation, Seam, SeamAllowance, WorkEntry,
};
pub use lot::{Layer, Lot, Material, PoolShare, PoolTaking, WashTest};
pub use overhead::{DayWork, OverheadSpent, WorkReversal};
pub use party::{Customer, CustomerMeasure, Supplier};
pub(crate) use piece::{FlawRow, PieceRow, StretchRow};
pub use purchase::{Purchase, PurchaseCharge, PurchaseLine};
pub use quotation::{Payment, Quotation, QuotationVersion};
pub use sale::Sale;
pub use token::{Person, Token};
pub use workshop::{
    KindPayRate, Logo, OverheadRate, PayRate, TaxRate, TaxReclaim, UsualOperation, Workshop,
    YearlyFigures,
};
