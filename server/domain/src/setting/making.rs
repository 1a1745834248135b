//! Words of cuts and work.

use super::words;

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
