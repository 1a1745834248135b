//! The table of contents: every route of the server.

use crate::{act::Table, error, health, metrics, openapi};
use actix_web::{
    Resource, guard,
    web::{self, ServiceConfig},
};
use ellwand_contract::{
    audit::RunAudit,
    bookings::{GetBooking, GetChanges, GetLastBooking, GetRequest, ListBookings, Undo},
    costs::GetCost,
    cuts::Cut,
    details::{ListDetails, RateDetail},
    figures::{GetFigures, SetFigures},
    garments::{
        CancelGarment, CopyGarment, DeliverGarment, EditGarment, FinishGarment, GetCandidates,
        GetGarment, ListGarments, PlanGarment,
    },
    lots::{
        EditLot, GetLot, MarkFlaw, MeasurePiece, PlacePiece, RemoveFlaw, SplitPiece, WeighPiece,
    },
    operations::{ForgetOperation, GetEstimates, ListOperations, SetOperation},
    outcomes::{GetGarmentOutcome, GetOutcome},
    overhead::{GetOverheadSpent, SetOverheadSpent},
    parties::{EditCustomer, EditSupplier, EraseCustomer, ListCustomers, ListSuppliers},
    people::{CreateToken, GetPerson, GetSelf, ListPeople, ListTokens, RevokeToken, SetPerson},
    purchases::{AddCharge, Buy, GetPurchase, ListPurchases},
    quotations::{
        AcceptQuotation, CloseQuotation, GetQuotation, ListQuotations, LogPayment, MakeQuotation,
        Requote,
    },
    reservations::{GetReservation, ListReservations, Release, Reserve},
    seams::{GetSeams, SeamInput},
    sheets::{EditMaterial, ListMaterials},
    shelf::GetShelf,
    stiffness::{GetStiffness, TestStiffness},
    wash::{FinishWash, TestWash},
    work::LogWork,
    workshop::{
        CloseBooks, GetWorkshop, SetOverheadRate, SetPayRate, SetTaxRate, SetTaxReclaim,
        SetWorkshop,
    },
};

/// Every act of the contract, by resource.
#[must_use]
pub fn table() -> Table {
    Table::default()
        // workshop
        .act::<GetWorkshop>()
        .act::<SetWorkshop>()
        .act::<SetTaxRate>()
        .act::<SetTaxReclaim>()
        .act::<SetPayRate>()
        .act::<SetOverheadRate>()
        .act::<GetFigures>()
        .act::<SetFigures>()
        .act::<GetOverheadSpent>()
        .act::<SetOverheadSpent>()
        .act::<CloseBooks>()
        // suppliers, customers, materials
        .act::<ListSuppliers>()
        .act::<EditSupplier>()
        .act::<ListCustomers>()
        .act::<EditCustomer>()
        .act::<EraseCustomer>()
        .act::<ListMaterials>()
        .act::<EditMaterial>()
        // usual operations
        .act::<ListOperations>()
        .act::<SetOperation>()
        .act::<ForgetOperation>()
        // purchases
        .act::<Buy>()
        .act::<ListPurchases>()
        .act::<GetPurchase>()
        .act::<AddCharge>()
        // shelf, lots, pieces
        .act::<GetShelf>()
        .act::<GetLot>()
        .act::<EditLot>()
        .act::<TestWash>()
        .act::<GetStiffness>()
        .act::<TestStiffness>()
        .act::<PlacePiece>()
        .act::<MarkFlaw>()
        .act::<RemoveFlaw>()
        .act::<SplitPiece>()
        .act::<MeasurePiece>()
        .act::<WeighPiece>()
        .act::<FinishWash>()
        // garments
        .act::<PlanGarment>()
        .act::<ListGarments>()
        .act::<GetGarment>()
        .act::<EditGarment>()
        .act::<CopyGarment>()
        .act::<FinishGarment>()
        .act::<DeliverGarment>()
        .act::<CancelGarment>()
        .act::<GetSeams>()
        .act::<SeamInput>()
        .act::<GetCandidates>()
        .act::<GetEstimates>()
        .act::<RateDetail>()
        .act::<ListDetails>()
        .act::<GetCost>()
        .act::<GetGarmentOutcome>()
        // reservations, cuts, work
        .act::<Reserve>()
        .act::<Release>()
        .act::<GetReservation>()
        .act::<ListReservations>()
        .act::<Cut>()
        .act::<LogWork>()
        // quotations
        .act::<MakeQuotation>()
        .act::<ListQuotations>()
        .act::<GetQuotation>()
        .act::<Requote>()
        .act::<AcceptQuotation>()
        .act::<CloseQuotation>()
        .act::<LogPayment>()
        .act::<GetOutcome>()
        // bookings
        .act::<ListBookings>()
        .act::<GetLastBooking>()
        .act::<GetBooking>()
        .act::<GetRequest>()
        .act::<GetChanges>()
        .act::<Undo>()
        .act::<RunAudit>()
        // people
        .act::<ListPeople>()
        .act::<SetPerson>()
        .act::<GetPerson>()
        .act::<GetSelf>()
        .act::<ListTokens>()
        .act::<CreateToken>()
        .act::<RevokeToken>()
}

/// Adds every route to an application; the application's data must hold a [`State`](crate::State).
pub fn configure(config: &mut ServiceConfig) {
    for resource in table().resources() {
        config.service(resource);
    }
    config
        .service(read_only("/v1/openapi.json").route(reading().to(openapi::document)))
        .service(read_only("/metrics").route(reading().to(metrics::metrics)))
        .service(read_only("/health/live").route(reading().to(health::live)))
        .service(read_only("/health/ready").route(reading().to(health::ready)));
}

/// A route for GET and, as HTTP asks, for HEAD.
pub(crate) fn reading() -> actix_web::Route {
    web::route().guard(guard::Any(guard::Get()).or(guard::Head()))
}

fn read_only(path: &str) -> Resource {
    web::resource(path)
        .default_service(web::to(|request| error::wrong_method(request, "GET, HEAD")))
}
