//! Who may do what, and what they may see.

use ellwand_domain::setting::{Grant, Role};

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
    /// To give up what the workshop has.
    WriteOffs,
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
    /// To issue and revoke tokens.
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

    /// The grant that allows it to people whose role does not.
    #[must_use]
    pub const fn grant(self) -> Option<Grant> {
        match self {
            Self::Read | Self::Daily => None,
            Self::Prices => Some(Grant::Prices),
            Self::SeePayRates | Self::PayRates => Some(Grant::PayRates),
            Self::WriteOffs => Some(Grant::WriteOffs),
            Self::Settings => Some(Grant::Settings),
            Self::Books | Self::CloseBooks => Some(Grant::Books),
            Self::SeePeople | Self::People => Some(Grant::People),
        }
    }

    /// True when a role with these grants is allowed to. A viewer only reads, whatever is granted.
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

/// True when a role has what a grant gives, by itself or by the grant: an owner has all, a maker sees prices.
#[must_use]
pub fn has(role: Role, grants: &[Grant], grant: Grant) -> bool {
    match role {
        Role::Owner => true,
        Role::Maker if grant == Grant::Prices => true,
        Role::Maker | Role::Viewer => grants.contains(&grant),
    }
}

/// What a reader may see beyond what everyone may.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sees {
    /// Prices, costs, stock values.
    pub prices: bool,
    /// What hours cost.
    pub pay_rates: bool,
    /// Measurements of customers: whoever works for them.
    pub measures: bool,
}

impl Sees {
    /// What a role with these grants sees.
    #[must_use]
    pub fn of(role: Role, grants: &[Grant]) -> Self {
        Self {
            prices: has(role, grants, Grant::Prices),
            pay_rates: has(role, grants, Grant::PayRates),
            measures: role != Role::Viewer,
        }
    }
}

/// An answer that shows more to some readers than to others.
pub(crate) trait Conceal {
    /// Clears what the reader may not see.
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

/// Lists the fields of an answer that are emptied for readers who may not see prices, or pay rates; `parts` conceal for
/// themselves.
macro_rules! conceals {
    ($answer:ty $(, $sees:ident { $($($field:ident).+),+ })*) => {
        impl $crate::access::Conceal for $answer {
            fn conceal(&mut self, sees: $crate::access::Sees) {
                #[allow(unused_imports, reason = "an answer may have no parts")]
                use $crate::access::Conceal as _;
                $($(conceals!(@ $sees, sees, self.$($field).+);)+)*
            }
        }
    };
    (@ parts, $reader:ident, $part:expr) => { $part.conceal($reader); };
    (@ $sees:ident, $reader:ident, $field:expr) => {
        if !$reader.$sees {
            $field = Default::default();
        }
    };
}
pub(crate) use conceals;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_viewer_never_writes_and_an_owner_always_may() {
        let all = [
            Access::Read,
            Access::Prices,
            Access::SeePayRates,
            Access::Daily,
            Access::WriteOffs,
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
