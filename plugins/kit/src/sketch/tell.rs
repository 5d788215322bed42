//! Readings in words, one line each, to compare in a test.

use std::fmt::Write;

use groundrule_units::{Dimension, Quantity};

use super::{Exact, Sketch};
use crate::{Answer, Check, Fact, Reading};

impl Sketch {
    /// Runs a check and tells its readings, one line each, by the subject's place in the sketch:
    /// `shed > lot.s: 3 m; line lot.s, role front`. A refusal is told as `refused: ...`.
    pub fn ask<C: Check>(&self) -> String {
        match C::run(self) {
            Ok(mut readings) => {
                readings.sort_by(|a, b| a.features.cmp(&b.features));
                readings.iter().map(|reading| self.tell(reading)).collect::<Vec<_>>().join("\n")
            }
            Err(refusal) => format!("refused: {refusal}"),
        }
    }

    fn tell(&self, reading: &Reading<Exact>) -> String {
        let names: Vec<&str> = reading.features.iter().map(|&of| self.name(of)).collect();
        let mut line = names.join(" > ");
        let answer = match &reading.answer {
            Answer::Amount(amount) => amount_words(*amount),
            Answer::Count(count) => count.to_string(),
            Answer::Truth(truth) => truth_word(*truth).to_owned(),
            Answer::Lacking(needs) => {
                let whats: Vec<&str> = needs.iter().map(|need| need.what.as_str()).collect();
                format!("lacking {}", whats.join(", "))
            }
            Answer::NotApplicable(why) => format!("not applicable, {why}"),
        };
        // Writing to a text cannot fail.
        let _ = write!(line, ": {answer}");
        for (at, (name, fact)) in reading.facts.iter().enumerate() {
            let _ = write!(line, "{} {name} {}", if at == 0 { ";" } else { "," }, fact_words(fact));
        }
        line
    }
}

fn fact_words(fact: &Fact<Exact>) -> String {
    match fact {
        Fact::Amount(amount) => amount_words(*amount),
        Fact::Count(count) => count.to_string(),
        Fact::Flag(flag) => truth_word(*flag).to_owned(),
        Fact::Text(text) => text.clone(),
    }
}

const fn truth_word(truth: bool) -> &'static str {
    if truth { "yes" } else { "no" }
}

/// To the thousandth, without trailing zeros and without a sign on nothing.
fn amount_words(amount: Exact) -> String {
    if amount.lacks() {
        return "lacking".to_owned();
    }
    let quantity: Quantity = amount.value();
    let number = format!("{:.3}", quantity.si());
    let number = match number.trim_end_matches('0').trim_end_matches('.') {
        "-0" => "0",
        number => number,
    };
    match quantity.dimension() {
        Dimension::Length => format!("{number} m"),
        Dimension::Area => format!("{number} m2"),
        Dimension::Volume => format!("{number} m3"),
        Dimension::Angle => format!("{number} rad"),
        Dimension::Ratio => number.to_owned(),
        Dimension::Flow => format!("{number} m3/s"),
        Dimension::Speed => format!("{number} m/s"),
        Dimension::Time => format!("{number} s"),
    }
}
