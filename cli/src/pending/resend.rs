//! Sends a kept request again, exactly as it was.

use super::Request;
use crate::client::{Askable, Client, Fault};
use ellwand_contract::{
    Sending,
    bookings::Undo,
    cuts::Cut,
    details::RateDetail,
    figures::SetFigures,
    garments::{
        CancelGarment, CopyGarment, DeliverGarment, EditGarment, FinishGarment, PlanGarment,
    },
    lots::{EditLot, MarkFlaw, MeasurePiece, PlacePiece, RemoveFlaw, SplitPiece, WeighPiece},
    operations::{ForgetOperation, SetOperation},
    overhead::SetOverheadSpent,
    parties::{EditCustomer, EditSupplier, EraseCustomer},
    people::SetPerson,
    purchases::{AddCharge, Buy},
    quotations::{AcceptQuotation, CloseQuotation, LogPayment, MakeQuotation, Requote},
    reservations::{Release, Reserve},
    sheets::EditMaterial,
    stiffness::TestStiffness,
    wash::{FinishWash, TestWash},
    work::LogWork,
    workshop::{CloseBooks, SetOverheadRate, SetPayRate, SetTaxRate, SetTaxReclaim, SetWorkshop},
};

/// Every act that writes.
macro_rules! send_as {
    ($client:expr, $request:expr, $($act:ty),+ $(,)?) => {
        match $request.act.as_str() {
            $(name if name == <$act as ellwand_contract::Act>::NAME => send::<$act>($client, $request),)+
            other => Err(unreadable(&format!("\"{other}\" is not an act of this program"))),
        }
    };
}

/// Sends it; true when it had been booked before.
///
/// # Errors
/// As the client's; a request that another version kept cannot be read.
pub fn resend(client: &mut Client, request: &Request) -> Result<bool, Fault> {
    send_as!(
        client,
        request,
        AcceptQuotation,
        AddCharge,
        Buy,
        CancelGarment,
        CloseBooks,
        CloseQuotation,
        CopyGarment,
        Cut,
        DeliverGarment,
        EditCustomer,
        EraseCustomer,
        EditGarment,
        EditLot,
        EditMaterial,
        EditSupplier,
        FinishGarment,
        FinishWash,
        ForgetOperation,
        LogPayment,
        LogWork,
        MakeQuotation,
        MarkFlaw,
        MeasurePiece,
        PlacePiece,
        PlanGarment,
        RateDetail,
        Release,
        RemoveFlaw,
        Requote,
        Reserve,
        SetFigures,
        SetOperation,
        SetPerson,
        SetOverheadRate,
        SetOverheadSpent,
        SetPayRate,
        SetTaxRate,
        SetTaxReclaim,
        SetWorkshop,
        SplitPiece,
        TestStiffness,
        TestWash,
        Undo,
        WeighPiece,
    )
}

fn send<A: Askable>(client: &mut Client, request: &Request) -> Result<bool, Fault> {
    let act: A = serde_json::from_value(request.body.clone())
        .map_err(|error| unreadable(&error.to_string()))?;
    let sending = Sending {
        repeat: true,
        ..Sending::default()
    };
    Ok(client.send(&act, sending)?.repeated)
}

fn unreadable(why: &str) -> Fault {
    Fault::Usage {
        message: format!("the kept request cannot be read: {why}"),
        hint: "look whether it was booked with `ellwand history`, and do it anew if not".to_owned(),
    }
}
