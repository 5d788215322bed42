//! The page: every numbered finding on both sides, and nothing from outside.

mod common;

use common::{HERON_LANE, Sample};
use groundrule_report::html;

fn numbers(sample: &Sample) -> Vec<u32> {
    let review = &sample.review;
    let rules = review.findings.iter().filter_map(|finding| finding.number);
    let data = review.data.iter().filter_map(|finding| finding.number);
    rules.chain(data).chain(review.tool.iter().filter_map(|finding| finding.number)).collect()
}

#[test]
fn each_number_has_a_mark_and_a_card_that_lead_to_each_other() {
    let sample = Sample::reviewed();
    let page = html::page(&sample.report());
    let numbers = numbers(&sample);
    assert_eq!(numbers.len(), 10);
    for n in numbers {
        for once in [
            format!("id=\"m{n}\""),
            format!("id=\"f{n}\""),
            format!("href=\"#m{n}\""),
            format!("href=\"#f{n}\""),
        ] {
            assert_eq!(page.matches(&once).count(), 1, "{once}");
        }
    }
}

#[test]
fn nothing_is_loaded_and_only_our_script_runs() {
    let page = html::page(&Sample::reviewed().report());
    for outside in ["http:", "src=", "@import", "<link", "<iframe", "<img", "javascript:", "style=\""] {
        let page = page.replace("http://www.w3.org/2000/svg", "");
        assert!(!page.contains(outside), "{outside}");
    }
    assert!(!page.replace("url(#", "").contains("url("));
    assert_eq!(page.matches("<script").count(), 1);
    let script = page.split("<script>").nth(1).and_then(|rest| rest.split("</script>").next()).unwrap();
    let hash = format!("'sha256-{}'", base64(&sha256(script)));
    assert!(page.contains(&hash), "html/mod.rs must name {hash}");
}

#[test]
fn headings_are_in_order() {
    let page = html::page(&Sample::reviewed().report());
    let mut level = 0;
    for piece in page.split("<h").skip(1).filter(|piece| piece.as_bytes()[0].is_ascii_digit()) {
        let next = i32::from(piece.as_bytes()[0] - b'0');
        assert!(next <= level + 1, "h{next} after h{level}");
        level = next;
    }
    assert_eq!(page.matches("<h1").count(), 1);
    assert!(page.starts_with("<!DOCTYPE html><html lang=\"en\">"));
}

#[test]
fn a_page_without_findings_says_so() {
    let page = html::page(&Sample::of(HERON_LANE).report());
    assert!(page.contains("Nothing here asks for anything."));
    assert!(page.contains("No rule was asked of anything on this plan."));
    assert!(page.contains("Cautions"));
}

fn sha256(text: &str) -> Vec<u8> {
    use sha2::Digest as _;
    sha2::Sha256::digest(text.as_bytes()).to_vec()
}

/// Base64 with padding (RFC 4648, section 4).
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::new();
    for chunk in bytes.chunks(3) {
        let bits =
            chunk.iter().fold(0_u32, |bits, byte| bits << 8 | u32::from(*byte)) << (8 * (3 - chunk.len()));
        for i in 0..4 {
            let letter = LETTERS[(bits >> (18 - 6 * i) & 63) as usize];
            text.push(if i > chunk.len() { '=' } else { char::from(letter) });
        }
    }
    text
}
