//! Required setback lines, and the ground of each lot that they leave.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use groundrule_packs::{Bound, Draws, Formula, Limit, Row, RowId, Selector};
use groundrule_plan::Name;
use groundrule_site::{Fact, Facts, FeatureId, Mark, Measured, Need, Site};
use groundrule_survey::Position;
use rayon::prelude::*;

use crate::ask::{Asked, Ground, elsewhere};
use crate::bound::Unset;
use crate::facts::ReadingFacts;
use crate::finding::Shown;
use crate::judge;
use crate::words;

/// What the required setbacks leave of one lot.
#[derive(Clone, Debug)]
pub struct Buildable {
    /// The lot.
    pub lot: FeatureId,
    /// Its id as written.
    pub name: Name,
    /// The setback that governs on each of its lines that has one, in ring order.
    pub setbacks: Vec<Setback>,
    /// The area left; none while something is lacking.
    pub area: Option<Shown>,
    /// What is lacking to know it.
    pub needs: Vec<Need>,
    /// The regions left.
    pub regions: Vec<Mark>,
}

/// A required setback.
#[derive(Clone, Debug)]
pub struct Setback {
    /// The lot line it is taken from.
    pub line: FeatureId,
    /// That line's id as written.
    pub name: Name,
    /// What to call the line: `front line lot.sw-se`.
    pub called: String,
    /// How far back of the line it lies.
    pub depth: Shown,
    /// The rule that asks for it: of several, the one that asks for most.
    pub rule: RowId,
    /// The rule's pack.
    pub pack: Arc<str>,
    /// The rule's title.
    pub title: Arc<str>,
    /// True where the role of the line was proposed and not stated.
    pub assumed: bool,
    /// The stretches of the setback line that bound what is left of the lot.
    pub paths: Vec<Vec<Position>>,
}

/// A row that draws setbacks here, with the groups of lot lines it measures to.
struct Drawing<'a> {
    asked: Asked<'a>,
    lines: Vec<&'a Selector>,
    /// Whom it is about, lot by lot, where its figure depends on that.
    subjects: Option<BTreeMap<FeatureId, Vec<FeatureId>>>,
    /// What the row itself lacks.
    needs: Vec<Need>,
}

/// The setbacks and what they leave, of every lot, by the rows that draw them.
pub(crate) fn of_lots(rows: &[Asked<'_>], ground: &Ground<'_>) -> Vec<Buildable> {
    let drawing: Vec<Drawing<'_>> = rows.iter().filter_map(|asked| Drawing::of(*asked, ground)).collect();
    if drawing.is_empty() {
        return Vec::new();
    }
    let lots: Vec<FeatureId> = ground.site.lots().collect();
    lots.into_par_iter().filter_map(|lot| of_lot(lot, &drawing, ground)).collect()
}

impl<'a> Drawing<'a> {
    fn of(asked: Asked<'a>, ground: &Ground<'_>) -> Option<Self> {
        let row = asked.row;
        row.draws.filter(|draws| *draws == Draws::Setback)?;
        let needs = match elsewhere(row, ground.plan, ground.site) {
            Some(judged) if judged.needs.is_empty() => return None,
            Some(judged) => judged.needs,
            None => Vec::new(),
        };
        let is_line = |kind: &String| kind == "lot-line";
        let lines = row.against.values().filter(|group| group.kinds.iter().any(is_line)).collect();
        let subjects = asks_subject(row).then(|| {
            let mut by_lot: BTreeMap<FeatureId, Vec<FeatureId>> = BTreeMap::new();
            for subject in row.subject.select(ground.site, &asked.classes.possible) {
                if let Some(lot) = ground.site.feature(subject).and_then(|feature| feature.lot) {
                    by_lot.entry(lot).or_default().push(subject);
                }
            }
            by_lot
        });
        Some(Self { asked, lines, subjects, needs })
    }

    fn takes_in(&self, line: FeatureId, site: &Site) -> bool {
        let Some(feature) = site.feature(line) else { return false };
        let possible = &self.asked.classes.possible;
        self.lines.iter().any(|group| group.matches(site, line, feature, possible))
    }

    /// The figure for one line: the greatest of those its subjects on the lot call for.
    fn depth(
        &self,
        lot: FeatureId,
        line: FeatureId,
        ground: &Ground<'_>,
    ) -> Result<Option<Measured>, Vec<Need>> {
        let own = [lot];
        let subjects = match &self.subjects {
            None => own.as_slice(),
            Some(by_lot) => by_lot.get(&lot).map(Vec::as_slice).unwrap_or_default(),
        };
        if subjects.is_empty() {
            return Err(vec![Need {
                what: format!("what `{}` is about", self.asked.row.title),
                how: "Draw it: how far back the setback lies depends on it.".to_owned(),
            }]);
        }
        let mut greatest: Option<Measured> = None;
        for subject in subjects {
            let (features, reading) = ([*subject, line], Facts::new());
            let site = ground.site;
            let facts =
                ReadingFacts { site, plan: &ground.plan.site, features: &features, reading: &reading };
            match judge::least(self.asked.row, &facts, ground.terms.style) {
                Ok(Some(depth)) => {
                    let more = greatest.as_ref().is_none_or(|held| depth.value().si() > held.value().si());
                    greatest = if more { Some(depth) } else { greatest };
                }
                Err(Unset::Lacking(names)) => {
                    return Err(names.iter().map(|name| facts.need(name)).collect());
                }
                // A broken row is told where it is asked.
                Ok(None) | Err(Unset::NotForIt(_) | Unset::Broken(_)) => {}
            }
        }
        Ok(greatest)
    }
}

/// True where the figure of a row depends on what the row is about, or whether it holds does.
fn asks_subject(row: &Row) -> bool {
    let of_bound = |limit: &Limit| match &limit.bound {
        Bound::Formula(formula, _) => names_subject(formula),
        Bound::Table { by, .. } => by.starts_with("subject."),
        Bound::None | Bound::Constant(_) | Bound::Count(_) => false,
    };
    of_bound(&row.limit)
        || row.when.as_ref().is_some_and(names_subject)
        || row
            .exceptions
            .iter()
            .any(|exception| names_subject(&exception.when) || exception.limit.as_ref().is_some_and(of_bound))
}

fn names_subject(formula: &Formula) -> bool {
    formula.names().any(|name| name.starts_with("subject."))
}

fn of_lot(lot: FeatureId, drawing: &[Drawing<'_>], ground: &Ground<'_>) -> Option<Buildable> {
    let site = ground.site;
    let feature = site.feature(lot)?;
    let mut needs: BTreeSet<Need> = drawing.iter().flat_map(|row| row.needs.iter().cloned()).collect();
    let mut governing: Vec<(FeatureId, Measured, &Drawing<'_>)> = Vec::new();
    for line in site.lines_of(lot) {
        let role = site.feature(line).and_then(|line| line.facts.get("role"));
        // Whatever the line is, a rule by role cannot be asked of it.
        if role.is_none() && drawing.iter().any(|row| row.lines.iter().any(|group| !group.roles.is_empty())) {
            needs.insert(site.front_need(lot));
        }
        let mut most: Option<(Measured, &Drawing<'_>)> = None;
        for row in drawing.iter().filter(|row| row.needs.is_empty() && row.takes_in(line, site)) {
            match row.depth(lot, line, ground) {
                Ok(Some(depth)) => {
                    let more = most.as_ref().is_none_or(|(held, _)| depth.value().si() > held.value().si());
                    most = if more { Some((depth, row)) } else { most };
                }
                Ok(None) => {}
                Err(lacking) => needs.extend(lacking),
            }
        }
        governing.extend(most.map(|(depth, row)| (line, depth, row)));
    }
    if governing.is_empty() && needs.is_empty() {
        return None;
    }
    let depths: Vec<(FeatureId, Measured)> =
        governing.iter().map(|(line, depth, _)| (*line, depth.clone())).collect();
    let left = site.buildable(lot, &depths);
    needs.extend(left.area.needs.iter().cloned());
    let known = needs.is_empty();
    let mut paths = left.lines.into_iter();
    let setbacks = governing
        .into_iter()
        .filter_map(|(line, depth, row)| setback(line, &depth, row, paths.next().unwrap_or_default(), site))
        .collect();
    Some(Buildable {
        lot,
        name: feature.id.clone(),
        setbacks,
        area: known.then(|| shown(&left.area)),
        needs: needs.into_iter().collect(),
        regions: if known { left.area.marks } else { Vec::new() },
    })
}

fn setback(
    line: FeatureId,
    depth: &Measured,
    row: &Drawing<'_>,
    paths: Vec<Vec<Position>>,
    site: &Site,
) -> Option<Setback> {
    let feature = site.feature(line)?;
    let Asked { pack, row, .. } = row.asked;
    Some(Setback {
        line,
        name: feature.id.clone(),
        called: words::called(feature),
        depth: shown(depth),
        rule: row.id.clone(),
        pack: Arc::from(pack.name.as_str()),
        title: Arc::from(row.title.as_str()),
        assumed: feature.facts.get("assumed") == Some(&Fact::Flag(true)),
        paths,
    })
}

fn shown(amount: &Measured) -> Shown {
    Shown { value: amount.value(), spread: amount.spread() }
}
