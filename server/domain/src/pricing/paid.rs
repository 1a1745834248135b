//! What payments come to. A payment in cash may settle more or less than changes hands, by its rounding.

/// A payment as it was logged; minor units of one currency.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Paid {
    /// What changed hands; below zero for what went back.
    pub minor: i64,
    /// What it settled beyond that, below zero where it settled less.
    pub rounding: i64,
}

/// The sums of payments; they stop at the ends of `i64`, far beyond what a book holds.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct PaidSums {
    /// What changed hands; below zero when more went back than came.
    pub paid: i64,
    /// All roundings.
    pub rounding: i64,
    /// What is settled of the schedule. What went back may be more by a rounding: then nothing is settled.
    pub settled: i64,
    /// What counts once the order is cancelled: what came in, less what was settled by what went back; never below zero.
    pub received: i64,
}

/// What a customer still owes on a quotation and its accepted supplements, of which each gives what was agreed and what is settled
/// of it. They are one account: what was paid too much on one pays the other, and a supplement for less takes off. Never below
/// zero: what was paid beyond all of them is not owed by the customer.
pub fn owed(accounts: impl IntoIterator<Item = (i64, i64)>) -> i64 {
    let left = accounts.into_iter().fold(0_i64, |left, (agreed, settled)| {
        left.saturating_add(agreed).saturating_sub(settled)
    });
    left.max(0)
}

impl PaidSums {
    /// Adds payments up.
    pub fn of(payments: impl IntoIterator<Item = Paid>) -> Self {
        let mut sums = Self::default();
        for Paid { minor, rounding } in payments {
            sums.paid = sums.paid.saturating_add(minor);
            sums.rounding = sums.rounding.saturating_add(rounding);
            let back = if minor < 0 { rounding } else { 0 };
            sums.received = sums.received.saturating_add(minor).saturating_add(back);
        }
        sums.settled = sums.paid.saturating_add(sums.rounding).max(0);
        sums.received = sums.received.max(0);
        sums
    }
}
