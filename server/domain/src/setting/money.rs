//! Words of purchases, taxes, prices and quotations.

use super::words;

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
        /// The price of a lot that came without one.
        Price = "price",
    }
);
words!(
    /// What decides whether the tax of a purchase is reclaimed.
    ReclaimBy, "a reason for reclaiming tax", {
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
        /// The labour, as its line shows it.
        Labour = "labour",
        /// The materials, as their line shows them.
        Materials = "materials",
        /// What is to be paid for the labour, after discounts.
        LabourWithTax = "labour-with-tax",
        /// What is to be paid for the materials, after discounts.
        MaterialsWithTax = "materials-with-tax",
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
    /// The basis of a quotation.
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
