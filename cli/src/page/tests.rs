//! Both forms of both sheets of the invented quotations.

mod read;
mod secret;
mod wording;

use super::{PageError, html, lost, pdf, sample};
use ellwand_contract::quotations::{QuotedCash, Sender};
use read::{pages, text_of};
use sample::{crowded, offered, ordinary, wide};

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
fn the_files_table_of_objects_tells_where_each_stands() {
    for quotation in [ordinary(), crowded(), offered()] {
        for inside in [false, true] {
            let file = pdf(&quotation, inside).unwrap();
            assert!(file.starts_with(b"%PDF-"));
            // Catalog, tree, information, two fonts in two encodings, and for each page itself and its content.
            assert_eq!(read::objects(&file), 7 + 2 * pages(&file));
        }
    }
}

#[test]
fn an_ordinary_quotation_fits_on_one_page_and_sixty_lines_do_not() {
    assert_eq!(pages(&pdf(&ordinary(), false).unwrap()), 1);
    let file = pdf(&crowded(), false).unwrap();
    let count = pages(&file);
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
    assert_eq!(pages(&file), 1);
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
                    place.0 >= 53.9 && place.1 <= 541.4 && place.2 > 30.0 && place.2 < 792.0,
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
    assert!(text.contains("end") && text.contains("finis") && pages(&file) > 6);
}

#[test]
fn the_file_has_a_title_and_a_language_and_is_the_same_each_time() {
    let file = pdf(&ordinary(), false).unwrap();
    let raw = String::from_utf8_lossy(&file);
    assert!(raw.contains("/Title (Quotation Q3, version 2)") && raw.contains("/Lang (en)"));
    assert!(!raw.contains("/CreationDate") && !raw.contains("/Producer"));
    assert_eq!(file, pdf(&ordinary(), false).unwrap());
}

/// Names and letters as they are written in Polish, Czech, Slovak, Hungarian, Romanian, Turkish and Croatian.
#[test]
fn letters_of_central_europe_stand_in_the_file_as_they_are_written() {
    const NAMES: &str = "Łódź, Świętochłowice; Dvořák, Ďáblice, Žďár; Ľubica Tŕň; Győr, Fűzfő; Brăila, Ștefan, Galați; \
                         Iğdır, İzmir; Đakovo";
    let mut quotation = ordinary();
    quotation.sheet.lines[0].text = NAMES.to_owned();
    let file = pdf(&quotation, false).unwrap();
    // š, ž and Ž are in WinAnsi at places that the reader of these tests does not know.
    let known = |text: &str| text.replace(['ž', 'Ž', 'š', '\u{8e}', '\u{9e}', '\u{9a}'], "");
    assert!(
        known(&text_of(&file)).contains(&known("Łódź, Świętochłowice; Dvořák, Ďáblice,")),
        "{}",
        text_of(&file)
    );
    for name in [
        "Győr, Fűzfő;",
        "Brăila, Ștefan,",
        "Iğdır, İzmir;",
        "Đakovo",
        "Tŕň;",
    ] {
        assert!(text_of(&file).contains(name), "{name}");
    }
    assert!(lost(&quotation, false).unwrap().is_empty());
    quotation.sheet.terms = Some("布 и 布".to_owned());
    assert_eq!(lost(&quotation, false).unwrap(), ['布', 'и']);
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
    assert_eq!(pages(&pdf(&quotation, false).unwrap()), 1);
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
    let file = pdf(&quotation, false).unwrap();
    quotation.inside = None;
    quotation.notes.clear();
    assert_eq!(page, html(&quotation, false).unwrap());
    assert_eq!(file, pdf(&quotation, false).unwrap());
}
