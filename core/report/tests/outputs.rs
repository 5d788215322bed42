//! What holds for every output.

mod common;

use common::{HERON_LANE, Sample};
use groundrule_packs::RowId;
use groundrule_plan::Name;
use groundrule_report::{drawing, fieldsheet, html, json, terminal};
use groundrule_units::Style;

fn outputs(sample: &Sample) -> Vec<(&'static str, String)> {
    let report = sample.report();
    let surveyed = terminal::Surveyed {
        plan: &sample.plan,
        layout: &sample.layout,
        remarks: &[],
        style: Style::DecimalFeet,
    };
    vec![
        ("terminal", terminal::review(&report, 80, true)),
        ("areas", terminal::areas(&sample.site, Style::FeetInches, 80)),
        ("html", html::page(&report)),
        ("svg", drawing::review(&report)),
        ("sheet", fieldsheet::page(&report)),
        ("sketch", fieldsheet::sketch(&report)),
        ("fieldwork", terminal::fieldwork(&report, 80)),
        ("survey", terminal::survey(&surveyed, 110)),
        ("plan", drawing::plan(&sample.plan, &sample.site, Style::Metres)),
        ("json", json::v1::reports(&[report])),
    ]
}

/// A report finds; it never lets anything through.
#[test]
fn no_output_passes_judgment_that_is_not_ours() {
    for (name, text) in outputs(&Sample::reviewed()) {
        let text = text.to_lowercase();
        let words: Vec<&str> = text.split(|c: char| !c.is_alphanumeric()).collect();
        for word in ["compliant", "approved", "legal"] {
            assert!(!words.contains(&word), "{name} says {word}");
        }
    }
}

#[test]
fn every_report_defers() {
    for (name, text) in outputs(&Sample::reviewed()) {
        if matches!(name, "terminal" | "html" | "json") {
            let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
            for phrase in
                ["one-call service", "licensed surveyor", "locally adopted code", "Height of fences: 6 ft"]
            {
                assert!(text.contains(phrase), "{name} does not say {phrase}");
            }
        }
    }
}

#[test]
fn the_same_review_gives_the_same_bytes() {
    assert_eq!(outputs(&Sample::reviewed()), outputs(&Sample::reviewed()));
}

/// Markup and escapes from a plan or a module come out as harmless text.
#[test]
fn hostile_text_is_neutralised() {
    const EVIL: &str = "</style><script>alert(1)</script>\u{1b}]0;x\u{7}\u{202e}\" onload=\"x' <b>&";
    let text = HERON_LANE.replace("id = \"oak\"\n", "id = \"oak\"\ntitle = \"</text><script>x</script>\"\n");
    let mut sample = Sample::reviewed();
    let titled = Sample::of(&text.replace("Heron Lane 3", "<script>y</script>\\\" onload=z"));
    (sample.plan, sample.site, sample.layout) = (titled.plan, titled.site, titled.layout);
    let review = &mut sample.review;
    review.plan = EVIL.to_owned();
    for finding in &mut review.findings {
        finding.title = EVIL.into();
        finding.why = EVIL.into();
        finding.names = vec![Name(EVIL.to_owned())];
        for text in [&mut finding.place, &mut finding.message, &mut finding.action] {
            EVIL.clone_into(text);
        }
        finding.note = Some(EVIL.to_owned());
        finding.referral = Some(EVIL.to_owned());
    }
    for finding in &mut review.data {
        EVIL.clone_into(&mut finding.remark.message);
        finding.remark.about = vec![Name(EVIL.to_owned())];
    }
    for finding in &mut review.tool {
        EVIL.clone_into(&mut finding.blame.message);
        EVIL.clone_into(&mut finding.blame.module);
        finding.rules = vec![RowId(EVIL.to_owned())];
    }
    review.packs[0].title = EVIL.to_owned();
    review.packs[0].not_encoded = vec![EVIL.to_owned()];
    for retake in &mut review.retakes {
        EVIL.clone_into(&mut retake.what);
        (retake.from, retake.to, retake.now) = (Some(EVIL.into()), Some(EVIL.into()), Some(EVIL.into()));
    }

    for (name, text) in outputs(&sample) {
        assert!(!text.contains('\u{7}') && !text.contains('\u{202e}') && !text.contains("\u{1b}]"), "{name}");
        if matches!(name, "html" | "sheet" | "svg" | "sketch" | "plan") {
            assert!(
                !text.contains("<script>alert") && !text.contains("<script>x") && !text.contains("<script>y"),
                "{name}"
            );
            assert!(!text.contains("\" onload"), "{name}");
            assert!(!text.contains('\u{1b}'), "{name}");
        }
        if matches!(name, "svg" | "sketch" | "plan") {
            assert!(roxmltree::Document::parse(&text).is_ok(), "{name}");
        }
    }
    let blame = terminal::blame(&sample.review.tool[0].blame);
    assert!(!blame.contains('\u{1b}') && !blame.contains('\u{202e}'), "{blame}");
}
