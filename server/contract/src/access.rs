//! Who may do what, and what they are told.

use crate::{
    Act,
    bookings::{Booking, Bookings, Change, Changes, Movement},
    details::Details,
    figures::SetFigures,
    garments::{Candidates, Garment},
    lots::{Lot, Piece},
    overhead::SetOverheadSpent,
    parties::EraseCustomer,
    people::{CreateToken, People, Person, RevokeToken, SetPerson},
    quotations::{CloseQuotation, MakeQuotation, Quotation, Requote},
    reservations::{Reservation, Reservations},
    sheets::{Material, Materials, Stock},
    shelf::Shelf,
    work::WorkLogged,
    workshop::{
        CloseBooks, SetOverheadRate, SetPayRate, SetTaxRate, SetTaxReclaim, SetWorkshop, Workshop,
    },
};
use ellwand_domain::setting::{BookingKind, Grant, Role};

/// What an act needs of the person who asks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Access {
    /// To be signed in.
    Read,
    /// To see prices.
    Prices,
    /// To see what hours cost.
    SeePayRates,
    /// To do daily work.
    Daily,
    /// To set what hours cost.
    PayRates,
    /// To change the workshop's settings.
    Settings,
    /// To prove the books.
    Books,
    /// To close the books.
    CloseBooks,
    /// To see tokens.
    SeePeople,
    /// To give out tokens and take them back.
    People,
}

impl Access {
    /// True for acts that change nothing.
    #[must_use]
    pub const fn reads(self) -> bool {
        matches!(
            self,
            Self::Read | Self::Prices | Self::SeePayRates | Self::Books | Self::SeePeople
        )
    }

    /// The grant that gives it to those whose role does not.
    #[must_use]
    pub const fn grant(self) -> Option<Grant> {
        match self {
            Self::Read | Self::Daily => None,
            Self::Prices => Some(Grant::Prices),
            Self::SeePayRates | Self::PayRates => Some(Grant::PayRates),
            Self::Settings => Some(Grant::Settings),
            Self::Books | Self::CloseBooks => Some(Grant::Books),
            Self::SeePeople | Self::People => Some(Grant::People),
        }
    }

    /// True when a role with these grants may. A viewer only reads, whatever is granted.
    #[must_use]
    pub fn allows(self, role: Role, grants: &[Grant]) -> bool {
        let granted = self.grant().is_some_and(|grant| has(role, grants, grant));
        match role {
            Role::Owner => true,
            Role::Maker => granted || matches!(self, Self::Read | Self::Daily),
            Role::Viewer => self.reads() && (granted || self == Self::Read),
        }
    }
}

/// What an act that writes needs, by its name: the record of a request holds no more than that.
#[must_use]
pub fn of_written(act: &str) -> Access {
    const BEYOND: [(&str, Access); 15] = [
        (SetWorkshop::NAME, SetWorkshop::ACCESS),
        (SetTaxRate::NAME, SetTaxRate::ACCESS),
        (SetTaxReclaim::NAME, SetTaxReclaim::ACCESS),
        (SetPayRate::NAME, SetPayRate::ACCESS),
        (SetOverheadRate::NAME, SetOverheadRate::ACCESS),
        (SetFigures::NAME, SetFigures::ACCESS),
        (SetOverheadSpent::NAME, SetOverheadSpent::ACCESS),
        (MakeQuotation::NAME, MakeQuotation::ACCESS),
        (Requote::NAME, Requote::ACCESS),
        (CloseQuotation::NAME, CloseQuotation::ACCESS),
        (CloseBooks::NAME, CloseBooks::ACCESS),
        (EraseCustomer::NAME, EraseCustomer::ACCESS),
        (CreateToken::NAME, CreateToken::ACCESS),
        (RevokeToken::NAME, RevokeToken::ACCESS),
        (SetPerson::NAME, SetPerson::ACCESS),
    ];
    BEYOND
        .iter()
        .find(|(name, _)| *name == act)
        .map_or(Access::Daily, |(_, access)| *access)
}

/// True when a role has what a grant gives, of itself or by the grant: an owner has all, a maker sees prices.
#[must_use]
pub fn has(role: Role, grants: &[Grant], grant: Grant) -> bool {
    match role {
        Role::Owner => true,
        Role::Maker if grant == Grant::Prices => true,
        Role::Maker | Role::Viewer => grants.contains(&grant),
    }
}

/// What a reader is told beside what everyone is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sees {
    /// Prices, costs, stock values.
    pub prices: bool,
    /// What hours cost.
    pub pay_rates: bool,
}

impl Sees {
    /// What a role with these grants sees.
    #[must_use]
    pub fn of(role: Role, grants: &[Grant]) -> Self {
        Self {
            prices: has(role, grants, Grant::Prices),
            pay_rates: has(role, grants, Grant::PayRates),
        }
    }
}

/// An answer that tells more to some than to others.
pub(crate) trait Conceal {
    /// Takes out what is not told.
    fn conceal(&mut self, sees: Sees);
}

impl<T: Conceal> Conceal for [T] {
    fn conceal(&mut self, sees: Sees) {
        self.iter_mut().for_each(|item| item.conceal(sees));
    }
}

impl<T: Conceal> Conceal for Option<T> {
    fn conceal(&mut self, sees: Sees) {
        self.iter_mut().for_each(|item| item.conceal(sees));
    }
}

/// Answers whose prices stand in fields of their own or of parts of theirs.
macro_rules! prices_of {
    ($($answer:ty { $($field:ident)* } $({ $($part:ident)* })?)*) => {
        $(impl Conceal for $answer {
            fn conceal(&mut self, sees: Sees) {
                if !sees.prices {
                    $(self.$field = None;)*
                }
                $($(self.$part.conceal(sees);)*)?
            }
        })*
    };
}

prices_of! {
    Movement { value }
    Bookings {} { bookings }
    Changes {} { changes }
    Reservation { cost }
    Stock { value printed }
    Material {} { stock }
    Materials {} { materials }
    People {} { people }
    Piece { value }
}

impl Conceal for Booking {
    fn conceal(&mut self, sees: Sees) {
        self.movements.conceal(sees);
        conceal_summary(self.kind, &mut self.summary, sees);
    }
}

impl Conceal for Change {
    fn conceal(&mut self, sees: Sees) {
        conceal_summary(self.kind, &mut self.summary, sees);
    }
}

fn conceal_summary(kind: BookingKind, summary: &mut String, sees: Sees) {
    let tells = matches!(kind, BookingKind::Charged | BookingKind::Undone);
    if let Some(kept) = without_amount(summary).filter(|_| tells && !sees.prices) {
        *summary = kept;
    }
}

/// `Charged 12.00 GBP on P1.` without what was charged.
fn without_amount(summary: &str) -> Option<String> {
    let (verb, on) = (["Charged ", "Credited "], " on P");
    let verb = verb
        .into_iter()
        .find_map(|verb| Some(summary.find(verb)? + verb.len()))?;
    let on = summary.rfind(on).filter(|on| *on > verb)?;
    Some(format!(
        "{}an amount{}",
        summary.get(..verb)?,
        summary.get(on..)?
    ))
}

impl Conceal for Lot {
    fn conceal(&mut self, sees: Sees) {
        self.pieces.conceal(sees);
        self.stock.conceal(sees);
        if !sees.prices {
            self.value_went.clear();
            (self.landed, self.landed_printed) = (None, None);
        }
    }
}

impl Conceal for Shelf {
    fn conceal(&mut self, sees: Sees) {
        if !sees.prices {
            self.pieces.iter_mut().for_each(|row| row.value = None);
        }
    }
}

impl Conceal for Garment {
    fn conceal(&mut self, sees: Sees) {
        self.needs
            .iter_mut()
            .for_each(|need| need.reservations.conceal(sees));
        if !sees.prices {
            self.material_cost = None;
        }
    }
}

impl Conceal for Reservations {
    fn conceal(&mut self, sees: Sees) {
        self.reservations.conceal(sees);
    }
}

impl Conceal for Quotation {
    fn conceal(&mut self, sees: Sees) {
        self.reservations.conceal(sees);
        if !sees.pay_rates {
            (self.inside, self.comparison) = (None, None);
            self.options
                .iter_mut()
                .for_each(|option| option.inside = None);
        }
    }
}

/// What hours cost is in the amounts, so that they are told like the cost sheet.
impl Conceal for Details {
    fn conceal(&mut self, sees: Sees) {
        if !(sees.prices && sees.pay_rates) {
            self.details.iter_mut().for_each(|of| of.cost = None);
        }
    }
}

impl Conceal for Candidates {
    fn conceal(&mut self, sees: Sees) {
        if !sees.prices {
            let all = self.needs.iter_mut().flat_map(|need| &mut need.serve);
            all.for_each(|candidate| candidate.cost = None);
            // The need that would take a lot has the price that was typed for it.
            let near = self.needs.iter_mut().flat_map(|need| &mut need.near);
            near.for_each(|near| near.need.estimate = None);
        }
    }
}

impl Conceal for Person {
    fn conceal(&mut self, sees: Sees) {
        if !sees.pay_rates {
            self.pay_rates.clear();
            self.rates_told = false;
        }
    }
}

impl Conceal for WorkLogged {
    fn conceal(&mut self, sees: Sees) {
        if !sees.pay_rates {
            self.per_hour = None;
        }
    }
}

impl Conceal for Workshop {
    fn conceal(&mut self, sees: Sees) {
        if !sees.pay_rates {
            self.pay_rates.clear();
            self.overhead_rates.clear();
            self.rates_told = false;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_amount_of_a_charge_is_taken_out_of_its_sentence() {
        for (told, kept) in [
            ("Charged 12.00 GBP on P1.", "Charged an amount on P1."),
            (
                "Took back B7: Credited 12.00 GBP on P12.",
                "Took back B7: Credited an amount on P12.",
            ),
        ] {
            assert_eq!(without_amount(told).as_deref(), Some(kept));
        }
        assert_eq!(
            without_amount("Took back B7: Put L1.1 linen in box 2."),
            None
        );
    }

    #[test]
    fn a_viewer_never_writes_and_an_owner_always_may() {
        let all = [
            Access::Read,
            Access::Prices,
            Access::SeePayRates,
            Access::Daily,
            Access::PayRates,
            Access::Settings,
            Access::Books,
            Access::CloseBooks,
            Access::SeePeople,
            Access::People,
        ];
        for access in all {
            assert!(access.allows(Role::Owner, &[]), "{access:?}");
            assert_eq!(
                access.allows(Role::Viewer, Grant::ALL),
                access.reads(),
                "{access:?}"
            );
            assert!(access.allows(Role::Maker, Grant::ALL), "{access:?}");
        }
        assert!(Access::Daily.allows(Role::Maker, &[]) && Access::Prices.allows(Role::Maker, &[]));
        assert!(
            !Access::SeePayRates.allows(Role::Maker, &[])
                && !Access::Prices.allows(Role::Viewer, &[])
        );
    }
}
