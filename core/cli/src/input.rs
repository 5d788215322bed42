//! A plan from a file of any kind we read, resolved and ready to measure.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use groundrule_formats::points::SurveyOptions;
use groundrule_formats::{Layers, Options, Use, geojson, geopackage, landxml, points};
use groundrule_plan::{KindTree, Plan, Remark, Source, read_plan};
use groundrule_site::Site;
use groundrule_survey::Layout;
use groundrule_units::{Length, Style, Written, read_length};

use crate::args::{Import, Units};
use crate::files;
use crate::trouble::Trouble;

/// A plan and everything worked out from it.
pub(crate) struct Loaded {
    pub(crate) plan: Plan,
    pub(crate) layout: Layout,
    pub(crate) site: Arc<Site>,
    pub(crate) remarks: Vec<Remark>,
}

/// Reads and resolves a plan.
pub(crate) fn load(path: &Path, import: &Import) -> Result<Loaded, Trouble> {
    let plan = read(path, import)?;
    let (layout, resolved) = groundrule_survey::resolve(&plan)?;
    let (site, built) = Site::build(&plan, &layout, KindTree::standard());
    let mut remarks = plan.remarks.clone();
    remarks.extend(resolved);
    remarks.extend(built);
    Ok(Loaded { plan, layout, site: Arc::new(site), remarks })
}

fn read(path: &Path, import: &Import) -> Result<Plan, Trouble> {
    let ending =
        path.extension().map(|ending| ending.to_string_lossy().to_ascii_lowercase()).unwrap_or_default();
    let name = path.display().to_string();
    let text = || -> Result<Source, Trouble> {
        Ok(Source { name: name.clone(), text: Arc::from(files::read_text(path)?) })
    };
    let mut plan = match ending.as_str() {
        "geojson" | "json" => geojson::read(&text()?, &map_options(path, import)?)?,
        "gpkg" => geopackage::read_bytes(&name, &files::read(path)?, &map_options(path, import)?)?,
        "csv" => points::read_csv(&text()?, &survey_options(path, import)?)?,
        "xml" | "landxml" => landxml::read(&text()?, &survey_options(path, import)?)?,
        _ => return Ok(read_plan(&text()?)?),
    };
    // What a file from elsewhere cannot say, the command line may.
    plan.site.district.clone_from(&import.district);
    Ok(plan)
}

/// What the user said about a map: its layers and how good it is.
fn map_options(path: &Path, import: &Import) -> Result<Options, Trouble> {
    let layers = BTreeMap::from([
        (import.lots.clone(), Use::Lots),
        (import.buildings.clone(), Use::Buildings),
        (import.streets.clone(), Use::Streets),
    ]);
    let mut options = Options::new(title(path), Layers::Named(layers));
    if let Some(accuracy) = accuracy(import)? {
        options.accuracy = accuracy;
    }
    Ok(options)
}

fn survey_options(path: &Path, import: &Import) -> Result<SurveyOptions, Trouble> {
    Ok(SurveyOptions { accuracy: accuracy(import)?, ..SurveyOptions::new(title(path)) })
}

/// The plus-or-minus the user gives, if any.
fn accuracy(import: &Import) -> Result<Option<Written<Length>>, Trouble> {
    let Some(text) = &import.map_accuracy else { return Ok(None) };
    let read = read_length(text, None).map_err(|unread| {
        Trouble::input(
            format!("--map-accuracy: {unread}"),
            "Give a length with its unit, for example \"5 ft\".",
        )
    })?;
    Ok(Some(read))
}

fn title(path: &Path) -> String {
    path.file_stem().map_or_else(|| path.display().to_string(), |stem| stem.to_string_lossy().into_owned())
}

/// The units to write in: those asked for, else those of the sheet.
pub(crate) fn style(units: &Units, plan: &Plan) -> Style {
    units.units.map_or_else(|| Style::from(plan.site.units), Style::from)
}
