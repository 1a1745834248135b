//! Both forms of both sheets of the invented quotations.

mod read;
mod secret;
mod wording;

use super::{
    PageError,
    document::Document,
    pdf::{Page, drawn},
    receipt, sample, sheet,
};
use chrono::NaiveDate;
use ellwand_contract::quotations::{Payment, Quotation, QuotedCash, Sender};
use ellwand_domain::code::BookingCode;
use read::text_of;
use sample::{crowded, offered, ordinary, wide};

fn html(quotation: &Quotation, inside: bool) -> Result<String, PageError> {
    sheet(quotation, inside)?.html()
}

/// The pages of the PDF file.
fn pdf(quotation: &Quotation, inside: bool) -> Result<Vec<Page>, PageError> {
    Ok(pages_of(&sheet(quotation, inside)?))
}

fn pages_of(document: &Document) -> Vec<Page> {
    drawn(document).0
}

fn file(quotation: &Quotation, inside: bool) -> Vec<u8> {
    sheet(quotation, inside).unwrap().pdf().unwrap()
}

fn lost(quotation: &Quotation, inside: bool) -> Result<Vec<char>, PageError> {
    Ok(sheet(quotation, inside)?.lost())
}

#[test]
fn the_workshops_sheet_is_refused_where_it_is_hidden() {
    let mut quotation = ordinary();
    quotation.inside = None;
    assert!(matches!(html(&quotation, true), Err(PageError::Hidden)));
    assert!(matches!(pdf(&quotation, true), Err(PageError::Hidden)));
    assert!(html(&quotation, false).is_ok() && pdf(&quotation, false).is_ok());
}

#[test]
fn typed_text_is_escaped_in_the_page() {
    let page = html(&crowded(), true).unwrap();
    for typed in ["<script", "<i>", "<b>", "<terms>"] {
        assert!(
            !page.contains(typed),
            "{typed} stands in the page as it was typed"
        );
    }
    assert!(page.contains("&#60;script&#62;alert(&#34;Ü &#38; &#39;ß&#39;&#34;)&#60;/script&#62;"));
    assert!(page.contains("<p>First line of &#60;terms&#62;.\nSecond line &#38; the last.</p>"));
}

#[test]
fn the_page_asks_for_nothing_from_outside() {
    let page = html(&ordinary(), true).unwrap();
    for outside in [
        "http:",
        "https:",
        "//",
        "src=",
        "href=",
        "url(",
        "@import",
        "@font-face",
        "<script",
        "<link",
    ] {
        assert!(!page.contains(outside), "{outside}");
    }
}

#[test]
fn every_element_of_the_page_is_closed_in_its_order() {
    for quotation in [ordinary(), crowded(), offered()] {
        for inside in [false, true] {
            read::closed(&html(&quotation, inside).unwrap());
        }
    }
}

#[test]
fn an_ordinary_quotation_fits_on_one_page_and_sixty_lines_do_not() {
    assert_eq!(pdf(&ordinary(), false).unwrap().len(), 1);
    let file = pdf(&crowded(), false).unwrap();
    let count = file.len();
    assert!(count > 1);
    let text = text_of(&file);
    assert!((1..=count).all(|page| text.contains(&format!("page {page} of {count}"))));
    // The names of the columns stand over the lines on each page that has any.
    assert!(text.matches("Line Tax rate Amount").count() > 1, "{text}");
}

/// What the customer chooses from stands side by side on one page; what is behind it is the workshop's.
#[test]
fn four_options_stand_side_by_side_on_one_page() {
    let quotation = offered();
    let file = pdf(&quotation, false).unwrap();
    assert_eq!(file.len(), 1);
    let (text, page) = (text_of(&file), html(&quotation, false).unwrap());
    for held in [&text, &page] {
        for option in &quotation.options {
            assert!(held.contains(&option.sheet.gross), "{}", option.sheet.gross);
        }
        for secret in [
            "stitching",
            "quilting",
            "tape",
            "floss",
            "steps",
            "450.62",
            "27.73",
            "+12.34",
            "38.63",
        ] {
            assert!(!held.contains(secret), "{secret}");
        }
    }
    let (text, page) = (
        text_of(&pdf(&quotation, true).unwrap()),
        html(&quotation, true).unwrap(),
    );
    for held in [&text, &page] {
        for text in [
            "stitching",
            "quilting on",
            "tape",
            "floss",
            "steps",
            "450.62",
            "27.73",
            "+12.34",
            "38.63",
        ] {
            assert!(held.contains(text), "{text}");
        }
    }
}

#[test]
fn nothing_is_written_outside_of_the_margins() {
    let mut unending = offered();
    let long = "Wombat".repeat(20);
    unending
        .options
        .iter_mut()
        .for_each(|option| option.name.clone_from(&long));
    unending
        .comparison
        .iter_mut()
        .flatten()
        .for_each(|figures| figures.name.clone_from(&long));
    unending
        .inside
        .as_mut()
        .unwrap()
        .details
        .iter_mut()
        .for_each(|of| of.detail.clone_from(&long));
    for quotation in [ordinary(), crowded(), wide(), offered(), unending] {
        for inside in [false, true] {
            for place in read::places(&pdf(&quotation, inside).unwrap()) {
                assert!(
                    place.0 >= 53.9 && place.1 <= 541.4 && place.2 > 50.0 && place.2 < 812.0,
                    "{place:?}"
                );
            }
        }
    }
}

#[test]
fn a_text_longer_than_a_page_goes_on_at_the_next() {
    let mut quotation = ordinary();
    quotation.sheet.lines[0].text = "word ".repeat(4000) + "end";
    quotation.sheet.terms = Some("clause\n".repeat(200) + "finis");
    let file = pdf(&quotation, false).unwrap();
    let text = text_of(&file);
    assert_eq!(
        [text.matches("word").count(), text.matches("clause").count()],
        [4000, 200]
    );
    assert!(text.contains("end") && text.contains("finis") && file.len() > 6);
}

#[test]
fn the_file_is_tagged_and_the_same_each_time() {
    let drawn = file(&ordinary(), false);
    let raw = String::from_utf8_lossy(&drawn);
    assert!(raw.starts_with("%PDF-") && raw.contains("/Lang") && raw.contains("/StructTreeRoot"));
    assert!(!raw.contains("/CreationDate") && !raw.contains("Helvetica"));
    assert_eq!(drawn, file(&ordinary(), false));
    // Only the letters that it shows are in it, not all of the font.
    assert!(drawn.len() < 120_000, "{}", drawn.len());
}

/// Names as they are written in Polish, Czech, Slovak, Hungarian, Romanian, Turkish, Croatian, Ukrainian and Greek.
const NAMES: &str = "Łódź, Świętochłowice; Dvořák, Ďáblice, Žďár; Ľubica Tŕň; Győr, Fűzfő; Brăila, Ștefan; Iğdır, İzmir; \
                     Đakovo; Жанна Щука; Ελένη Ψαρρά";

#[test]
fn letters_of_europe_stand_in_the_file_as_they_are_written() {
    let mut quotation = ordinary();
    quotation.sheet.title = NAMES.to_owned();
    let text = text_of(&pdf(&quotation, false).unwrap());
    for name in NAMES.split([' ', ',', ';']) {
        assert!(text.contains(name), "{name}: {text}");
    }
    assert!(lost(&quotation, false).unwrap().is_empty());
    quotation.sheet.terms = Some("布 и 布".to_owned());
    assert_eq!(lost(&quotation, false).unwrap(), ['布']);
}

/// What another program reads in the file: `pdftotext` of Poppler.
#[needs::variable(TEST_PDFTOTEXT)]
#[test]
fn another_program_reads_the_same_text() {
    let mut quotation = ordinary();
    quotation.sheet.title = NAMES.to_owned();
    let folder = tempfile::TempDir::new().unwrap();
    let path = folder.path().join("sheet.pdf");
    std::fs::write(&path, file(&quotation, true)).unwrap();
    let program = option_env!("TEST_PDFTOTEXT").unwrap_or("pdftotext");
    let read = std::process::Command::new(program)
        .args(["-layout".as_ref(), path.as_os_str(), "-".as_ref()])
        .output()
        .unwrap();
    let text = String::from_utf8(read.stdout).unwrap();
    for line in pdf(&quotation, true)
        .unwrap()
        .iter()
        .flat_map(|page| &page.lines)
    {
        for word in line.line.text.split_whitespace() {
            assert!(text.contains(word), "{word}: {text}");
        }
    }
}

#[test]
fn the_sheet_begins_with_who_it_is_from() {
    let mut quotation = ordinary();
    assert!(
        !html(&quotation, false).unwrap().contains("<address>"),
        "no empty heading"
    );
    quotation.sheet.sender = Some(Sender {
        name: Some("Slipway & Daughters".to_owned()),
        address: vec!["3 Slip Lane".to_owned(), "2450 Smallport".to_owned()],
        telephone: Some("0555 12".to_owned()),
        account: Some("Smallport Savings 12 34".to_owned()),
        ..Sender::default()
    });
    let text = text_of(&pdf(&quotation, false).unwrap());
    assert!(
        text.starts_with(
            "Slipway & Daughters 3 Slip Lane 2450 Smallport Telephone 0555 12 Quotation Q3, version 2"
        ),
        "{text}"
    );
    assert!(text.contains("Account: Smallport Savings 12 34"), "{text}");
    assert_eq!(pdf(&quotation, false).unwrap().len(), 1);
    let page = html(&quotation, false).unwrap();
    read::closed(&page);
    let (before, _) = page.split_once("<h1>").unwrap();
    assert!(
        before.contains("<strong>Slipway &#38; Daughters</strong>")
            && before.contains("<br>2450 Smallport"),
        "{before}"
    );
    quotation.sheet.sender = Some(Sender {
        name: None,
        address: vec!["3 Slip Lane".to_owned()],
        ..Sender::default()
    });
    assert!(text_of(&pdf(&quotation, false).unwrap()).starts_with("3 Slip Lane Quotation"));
}

#[test]
fn what_is_paid_in_cash_stands_beside_the_total_and_each_stage() {
    let mut quotation = ordinary();
    quotation.sheet.cash = Some(QuotedCash {
        step: "0.05".to_owned(),
        gross: "598.11".to_owned(),
    });
    for (stage, cash) in quotation
        .sheet
        .stages
        .iter_mut()
        .zip(["239.22", "120.33", "238.44"])
    {
        stage.cash = Some(cash.to_owned());
    }
    let forms = [
        html(&quotation, false).unwrap(),
        text_of(&pdf(&quotation, false).unwrap()),
    ];
    for form in forms {
        for text in [
            "598.11",
            "239.22",
            "120.33",
            "238.44",
            "In cash",
            "nearest 0.05 EUR",
        ] {
            assert!(form.contains(text), "{text}: {form}");
        }
    }
    assert!(!html(&ordinary(), false).unwrap().contains("cash"));
}

/// What a part is made of, when it comes and where to sign stand on an open offer; nobody signs one that is closed.
#[test]
fn a_customer_reads_what_it_is_made_of_and_signs() {
    let mut quotation = offered();
    quotation.options[0].sheet.made_of[0].material = None;
    let forms = |quotation: &_| {
        [
            html(quotation, false).unwrap(),
            text_of(&pdf(quotation, false).unwrap()),
        ]
    };
    for form in forms(&quotation) {
        for text in [
            "Two storm coats, lined.",
            "Made of",
            "oiled poplin",
            "to be chosen",
            "18 December 2026",
            "Chosen option",
            "Place and date",
            "Signature",
        ] {
            assert!(form.contains(text), "{text}: {form}");
        }
    }
    quotation.state = ellwand_domain::setting::QuotationState::Closed;
    for form in forms(&quotation) {
        assert!(!form.contains("Signature"), "{form}");
    }
}

#[test]
fn the_customers_page_is_as_it_was_looked_at() {
    insta::assert_snapshot!("customer_page", html(&ordinary(), false).unwrap());
}

#[test]
fn a_customers_document_is_the_same_whether_or_not_the_answer_holds_more() {
    let mut quotation = ordinary();
    let page = html(&quotation, false).unwrap();
    let drawn = file(&quotation, false);
    quotation.inside = None;
    quotation.notes.clear();
    assert_eq!(page, html(&quotation, false).unwrap());
    assert_eq!(drawn, file(&quotation, false));
}

/// A sheet in other words has none of the usual ones; amounts and dates follow.
#[test]
fn a_sheet_is_in_the_workshops_own_words() {
    let mut quotation = ordinary();
    let own = |label: &ellwand_contract::words::Label| {
        let key = label.key();
        let word = match key {
            "language" => "de",
            "decimal_mark" => ",",
            "group_mark" => ".",
            "months" => {
                "Jänner, Februar, März, April, Mai, Juni, Juli, August, September, Oktober, November, Dezember"
            }
            "date" => "{day}. {month_name} {year}",
            "page" => "Seite {page} von {pages}",
            _ => return (key.to_owned(), format!("<{key}>")),
        };
        (key.to_owned(), word.to_owned())
    };
    quotation.sheet.words = ellwand_contract::words::Label::ALL
        .iter()
        .map(own)
        .collect();
    quotation.sheet.gross = "1598.12".to_owned();
    let page = html(&quotation, false).unwrap();
    let text = text_of(&pdf(&quotation, false).unwrap());
    assert!(
        page.contains("lang=\"de\"") && page.contains("1.598,12"),
        "{page}"
    );
    assert!(
        text.contains("Seite 1 von 1") && text.contains("12. Oktober 2026"),
        "{text}"
    );
    for word in [
        "Quotation",
        "Price in",
        "Tax",
        "Payment",
        "Made of",
        "Signature",
        "when reached",
        "the rest",
        "Valid",
    ] {
        assert!(!text.contains(word), "{word}: {text}");
    }
    assert!(
        text.contains("<quotation> Q3, <version> 2") && text.contains("<of_gross>"),
        "{text}"
    );
}

#[test]
fn a_receipt_says_what_was_paid_and_what_is_still_owed() {
    let quotation = ordinary();
    let payment = |amount: &str, left: Option<&str>| Payment {
        date: NaiveDate::from_ymd_opt(2026, 10, 20).unwrap(),
        amount: amount.to_owned(),
        cash: true,
        rounding: None,
        rounding_so_far: None,
        note: Some("at the fitting".to_owned()),
        paid: "120.00".to_owned(),
        left: left.map(str::to_owned),
        booking: BookingCode::new(12),
    };
    let forms = |payment: &Payment| {
        let document = receipt(&quotation, payment);
        [document.html().unwrap(), text_of(&pages_of(&document))]
    };
    for form in forms(&payment("80.00", Some("478.12"))) {
        for text in [
            "Receipt B12",
            "Jördis Überwasser",
            "20 October 2026",
            "in cash",
            "at the fitting",
            "Received",
            "80.00",
            "120.00",
            "Still to be paid",
            "478.12",
        ] {
            assert!(form.contains(text), "{text}: {form}");
        }
    }
    let in_steps = Payment {
        rounding_so_far: Some("0.02".to_owned()),
        ..payment("80.00", Some("478.10"))
    };
    for form in forms(&in_steps) {
        assert!(form.contains("Rounding") && form.contains("0.02"), "{form}");
    }
    for form in forms(&payment("-80.00", None)) {
        assert!(
            form.contains("Paid back") && form.contains("80.00") && !form.contains("-80"),
            "{form}"
        );
        assert!(
            !form.contains("Still to be paid") && !form.contains("Received"),
            "{form}"
        );
    }
}
