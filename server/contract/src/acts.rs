//! The one list of acts: the router, the CLI's resending and the access of kept requests are made from it.
//!
//! An act that is missing here does not compile, since [`Act`] asks for [`Listed`].

use crate::{Act, Method, access::Access, act::Listed};

/// Hands every act of the contract to a macro, by resource, each with `read` or `write` before it.
#[macro_export]
macro_rules! each_act {
    ($visit:ident) => {
        $visit! {
            read($crate::workshop::GetWorkshop),
            read($crate::logos::GetLogo),
            write($crate::workshop::SetWorkshop),
            write($crate::workshop::SetTaxRate),
            write($crate::workshop::SetTaxReclaim),
            write($crate::workshop::SetPriceRule),
            write($crate::words::SetWords),
            write($crate::workshop::SetPayRate),
            write($crate::workshop::SetOverheadRate),
            read($crate::figures::GetFigures),
            write($crate::figures::SetFigures),
            read($crate::overhead::GetOverheadSpent),
            write($crate::overhead::SetOverheadSpent),
            write($crate::workshop::CloseBooks),
            read($crate::parties::ListSuppliers),
            write($crate::parties::EditSupplier),
            read($crate::parties::ListCustomers),
            write($crate::parties::EditCustomer),
            read($crate::measures::GetCustomer),
            write($crate::measures::MeasureCustomer),
            write($crate::parties::EraseCustomer),
            read($crate::sheets::ListMaterials),
            write($crate::sheets::EditMaterial),
            read($crate::operations::ListOperations),
            write($crate::operations::SetOperation),
            write($crate::operations::ForgetOperation),
            write($crate::purchases::Buy),
            read($crate::purchases::ListPurchases),
            read($crate::purchases::GetPurchase),
            write($crate::purchases::AddCharge),
            write($crate::purchases::PriceLot),
            read($crate::shelf::GetShelf),
            read($crate::lots::GetLot),
            write($crate::lots::EditLot),
            write($crate::wash::TestWash),
            read($crate::stiffness::GetStiffness),
            write($crate::stiffness::TestStiffness),
            write($crate::lots::PlacePiece),
            write($crate::lots::MarkFlaw),
            write($crate::lots::RemoveFlaw),
            write($crate::lots::SplitPiece),
            write($crate::lots::MeasurePiece),
            write($crate::lots::WeighPiece),
            write($crate::goods::GiveGoods),
            write($crate::goods::SellGoods),
            write($crate::goods::DiscardGoods),
            write($crate::wash::FinishWash),
            write($crate::wash::FinishWashes),
            write($crate::garments::PlanGarment),
            read($crate::garments::ListGarments),
            read($crate::garments::GetGarment),
            write($crate::garments::EditGarment),
            write($crate::garments::CopyGarment),
            write($crate::garments::FinishGarment),
            write($crate::garments::DeliverGarment),
            write($crate::garments::CancelGarment),
            read($crate::seams::GetSeams),
            read($crate::seams::SeamInput),
            read($crate::garments::GetCandidates),
            read($crate::lays::GetLay),
            write($crate::lays::KeepLay),
            read($crate::lays::GetKeptLay),
            read($crate::operations::GetEstimates),
            write($crate::details::RateDetail),
            read($crate::details::ListDetails),
            read($crate::costs::GetCost),
            read($crate::outcomes::GetGarmentOutcome),
            write($crate::reservations::Reserve),
            write($crate::reservations::Release),
            read($crate::reservations::GetReservation),
            read($crate::reservations::ListReservations),
            write($crate::cuts::Cut),
            write($crate::cuts::CutPromises),
            write($crate::work::LogWork),
            write($crate::quotations::MakeQuotation),
            read($crate::quotations::ListQuotations),
            read($crate::quotations::GetQuotation),
            write($crate::quotations::Requote),
            write($crate::quotations::AcceptQuotation),
            write($crate::quotations::CloseQuotation),
            write($crate::quotations::LogPayment),
            read($crate::outcomes::GetOutcome),
            read($crate::bookings::ListBookings),
            read($crate::bookings::GetLastBooking),
            read($crate::bookings::GetBooking),
            read($crate::bookings::GetRequest),
            read($crate::bookings::GetChanges),
            write($crate::bookings::Undo),
            read($crate::month::GetMonth),
            read($crate::audit::RunAudit),
            read($crate::people::ListPeople),
            write($crate::people::SetPerson),
            read($crate::people::GetPerson),
            read($crate::people::GetSelf),
            read($crate::people::ListTokens),
            write($crate::people::CreateToken),
            write($crate::people::RevokeToken),
            write($crate::people::RevokeTokens)
        }
    };
}

macro_rules! list {
    ($($(read($read:ty))? $(write($write:ty))?),*) => {
        $(
            $(impl Listed for $read {}
            const _: () = assert!(matches!(<$read>::METHOD, Method::Get));)?
            $(impl Listed for $write {}
            const _: () = assert!(!matches!(<$write>::METHOD, Method::Get));)?
        )*

        /// Every act that writes, with what a person needs for it.
        pub const WRITTEN: &[(&str, Access)] = &[$($((<$write>::NAME, <$write>::ACCESS),)?)*];
    };
}
each_act!(list);

/// The access that an act that writes needs, by its name, which is all that the record of a request holds. None for an unknown name.
#[must_use]
pub fn needs(act: &str) -> Option<Access> {
    let found = WRITTEN.iter().find(|(name, _)| *name == act);
    found.map(|(_, access)| *access)
}
