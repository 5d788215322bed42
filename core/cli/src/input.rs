//! A plan from a file of any kind we read, resolved and ready to measure.

use std::path::Path;
use std::sync::Arc;

use groundrule_plan::{KindTree, Plan, Remark, Source, read_plan};
use groundrule_site::Site;
use groundrule_survey::Layout;
use groundrule_units::{SheetUnit, Style};

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

fn read(path: &Path, _import: &Import) -> Result<Plan, Trouble> {
    let name = path.display().to_string();
    let source = Source { name, text: Arc::from(files::read_text(path)?) };
    Ok(read_plan(&source)?)
}

/// The units to write in: those asked for, else those of the sheet.
pub(crate) fn style(units: &Units, plan: &Plan) -> Style {
    units.units.map_or_else(
        || match plan.site.units {
            SheetUnit::Feet | SheetUnit::Inches => Style::DecimalFeet,
            SheetUnit::Metres | SheetUnit::Millimetres => Style::Metres,
        },
        Style::from,
    )
}
