//! `runoff`: the flow of rain, by published methods.

use groundrule_site::{Measured, runoff as methods};
use groundrule_units::{Dimension, Ratio};
use wasmtime::StoreContextMut;
use wasmtime::component::LinkerInstance;

use super::call::{Call, Handle};
use crate::bindings::runoff::{Channel, ManningConstant, RationalForm, Storm, Water};
use crate::cost;
use crate::state::{State, parts};
use crate::stop::Stop;

type Store<'a> = StoreContextMut<'a, State>;
type Answers = Vec<Option<Handle>>;
type Two = (Handle, Handle);
type Three = (Handle, Handle, Handle);
type Four = (Handle, Handle, Handle, Handle);

use Dimension::{Area, Flow, Length, Ratio as Number, Speed, Time};

pub(super) fn link(interface: &mut LinkerInstance<'_, State>) -> wasmtime::Result<()> {
    ground(interface)?;
    peaks(interface)?;
    times(interface)?;
    streams(interface)
}

fn ground(interface: &mut LinkerInstance<'_, State>) -> wasmtime::Result<()> {
    interface.func_wrap("product", |store: Store<'_>, (items,): (Vec<Vec<(Handle, i8)>>,)| {
        let factors = |call: &Call<'_>, item: &[(Handle, i8)]| {
            let amount = |(handle, power): &(Handle, i8)| Ok((call.amount(handle)?.clone(), *power));
            item.iter().map(amount).collect::<wasmtime::Result<Vec<_>>>()
        };
        Ok((each_list(store, &items, |call, item| {
            let factors = factors(call, item)?;
            let factors: Vec<(&Measured, i8)> =
                factors.iter().map(|(amount, power)| (amount, *power)).collect();
            methods::product(&factors).map_err(|why| misuse(&why))
        })?,))
    })?;
    interface.func_wrap("composite", |store: Store<'_>, (items,): (Vec<Vec<(Handle, f64)>>,)| {
        Ok((each_list(store, &items, |call, item| {
            let mut parts = Vec::with_capacity(item.len());
            for (handle, figure) in item {
                parts.push((amount(call, handle, Area)?, *figure));
            }
            Ok(methods::composite(&parts))
        })?,))
    })?;
    interface.func_wrap("rounded", |store: Store<'_>, (items,): (Vec<Handle>,)| {
        let answers = each(
            store,
            &items,
            |item| vec![item],
            |call, item| Ok(Some(methods::rounded(amount(call, item, Number)?))),
        )?;
        Ok((answers.into_iter().flatten().collect::<Vec<_>>(),))
    })?;
    interface.func_wrap("curve-number", |store: Store<'_>, (cover, group): (String, String)| {
        let mut call = Call::begin(store, 2)?;
        call.charge(cost::lookup(&cover).saturating_add(cost::lookup(&group)))?;
        Ok((methods::of_cover(&cover, &group),))
    })?;
    interface.func_wrap("covers", |store: Store<'_>, (): ()| {
        let names: Vec<String> = methods::covers().map(str::to_owned).collect();
        let mut call = Call::begin(store, names.len())?;
        call.charge(cost::BYTE.saturating_mul(names.iter().map(|name| name.len() as u64).sum()))?;
        Ok((names,))
    })?;
    interface.func_wrap(
        "with-hard-ground",
        |store: Store<'_>, (items,): (Vec<(Handle, Handle, Option<Handle>)>,)| {
            let answers = each(store, &items, half_hard, |call, (number, hard, unconnected)| {
                let unconnected = match unconnected {
                    Some(share) => Some(amount(call, share, Number)?),
                    None => None,
                };
                let (number, hard) = (amount(call, number, Number)?, amount(call, hard, Number)?);
                Ok(methods::with_hard_ground(number, hard, unconnected))
            })?;
            Ok((answers,))
        },
    )?;
    interface.func_wrap("runoff-depth", |store: Store<'_>, (items,): (Vec<Two>,)| {
        Ok((each(
            store,
            &items,
            |(a, b)| vec![a, b],
            |call, (rain, number)| {
                Ok(methods::runoff_depth(amount(call, rain, Length)?, amount(call, number, Number)?))
            },
        )?,))
    })
}

fn peaks(interface: &mut LinkerInstance<'_, State>) -> wasmtime::Result<()> {
    interface.func_wrap("rational-peak", |store: Store<'_>, (items, form): (Vec<Three>, RationalForm)| {
        let form = match form {
            RationalForm::Exact => methods::Form::Exact,
            RationalForm::Customary => methods::Form::Customary,
        };
        Ok((each(store, &items, three, |call, (area, coefficient, rain)| {
            let coefficient = amount(call, coefficient, Number)?;
            let (area, rain) = (amount(call, area, Area)?, amount(call, rain, Speed)?);
            Ok(methods::rational_peak(area, coefficient, rain, form))
        })?,))
    })?;
    interface.func_wrap(
        "graphical-peak",
        |store: Store<'_>, (items, storm, ponds): (Vec<Four>, Storm, f64)| {
            let storm = match storm {
                Storm::I => methods::Storm::I,
                Storm::Ia => methods::Storm::Ia,
                Storm::Ii => methods::Storm::II,
                Storm::Iii => methods::Storm::III,
            };
            let ponds = Ratio::from_fraction(ponds);
            Ok((each(
                store,
                &items,
                |(a, b, c, d)| vec![a, b, c, d],
                |call, (area, number, rain, time)| {
                    let (area, number) = (amount(call, area, Area)?, amount(call, number, Number)?);
                    let (rain, time) = (amount(call, rain, Length)?, amount(call, time, Time)?);
                    Ok(methods::graphical_peak([area, number, rain, time], storm, ponds))
                },
            )?,))
        },
    )?;
    interface.func_wrap("quality-volume", |store: Store<'_>, (items,): (Vec<Three>,)| {
        Ok((each(store, &items, three, |call, (area, rain, hard)| {
            let (area, rain) = (amount(call, area, Area)?, amount(call, rain, Length)?);
            Ok(methods::quality_volume(area, rain, amount(call, hard, Number)?))
        })?,))
    })
}

fn times(interface: &mut LinkerInstance<'_, State>) -> wasmtime::Result<()> {
    interface.func_wrap(
        "sheet-time",
        |store: Store<'_>, (items,): (Vec<(Handle, Handle, Handle, f64)>,)| {
            Ok((each(
                store,
                &items,
                |(a, b, c, _)| vec![a, b, c],
                |call, (length, slope, rain, roughness)| {
                    let (length, slope) = (amount(call, length, Length)?, amount(call, slope, Number)?);
                    Ok(methods::sheet_time(length, slope, amount(call, rain, Length)?, *roughness))
                },
            )?,))
        },
    )?;
    interface.func_wrap("shallow-speed", |store: Store<'_>, (items,): (Vec<(Handle, bool)>,)| {
        Ok((each(
            store,
            &items,
            |(slope, _)| vec![slope],
            |call, (slope, paved)| Ok(methods::shallow_speed(amount(call, slope, Number)?, *paved)),
        )?,))
    })?;
    interface.func_wrap("kirpich-time", |store: Store<'_>, (items,): (Vec<Two>,)| {
        Ok((each(
            store,
            &items,
            |(a, b)| vec![a, b],
            |call, (length, slope)| {
                Ok(methods::kirpich_time(amount(call, length, Length)?, amount(call, slope, Number)?))
            },
        )?,))
    })
}

fn streams(interface: &mut LinkerInstance<'_, State>) -> wasmtime::Result<()> {
    interface.func_wrap(
        "wetted-speed",
        |store: Store<'_>, (items, manning): (Vec<(Handle, Handle, Handle, f64)>, ManningConstant)| {
            Ok((each(
                store,
                &items,
                |(a, b, c, _)| vec![a, b, c],
                |call, (area, perimeter, slope, roughness)| {
                    let (area, perimeter) = (amount(call, area, Area)?, amount(call, perimeter, Length)?);
                    let slope = amount(call, slope, Number)?;
                    Ok(methods::wetted_speed([area, perimeter, slope], *roughness, constant(manning)))
                },
            )?,))
        },
    )?;
    interface.func_wrap("at-depth", |store: Store<'_>, (items,): (Vec<(Channel, Handle)>,)| {
        Ok((water(store, &items, Length, methods::stream)?,))
    })?;
    interface.func_wrap("at-flow", |store: Store<'_>, (items,): (Vec<(Channel, Handle)>,)| {
        Ok((water(store, &items, Flow, methods::normal)?,))
    })
}

const fn constant(constant: ManningConstant) -> methods::Constant {
    match constant {
        ManningConstant::Exact => methods::Constant::Exact,
        ManningConstant::Us1486 => methods::Constant::Us1486,
        ManningConstant::Us149 => methods::Constant::Us149,
    }
}

fn water(
    store: Store<'_>,
    items: &[(Channel, Handle)],
    by: Dimension,
    work: fn(&methods::Channel<'_>, &Measured) -> Option<methods::Stream>,
) -> wasmtime::Result<Vec<Option<Water>>> {
    let mut call = Call::begin(store, items.len())?;
    let mut answers = Vec::with_capacity(items.len());
    for (channel, given) in items {
        let mut handles = vec![&channel.slope, given];
        handles.extend(channel.width.as_ref());
        charge(&mut call, &handles, cost::NORMAL_DEPTH)?;
        let width = match &channel.width {
            Some(width) => Some(amount(&call, width, Length)?),
            None => None,
        };
        let read = methods::Channel {
            width,
            side: channel.side,
            slope: amount(&call, &channel.slope, Number)?,
            roughness: channel.roughness,
            constant: constant(channel.constant),
        };
        answers.push(match work(&read, amount(&call, given, by)?) {
            Some(found) => Some(Water {
                depth: keep(&mut call, found.depth)?,
                flow: keep(&mut call, found.flow)?,
                speed: keep(&mut call, found.speed)?,
            }),
            None => None,
        });
    }
    Ok(answers)
}

fn half_hard((number, hard, unconnected): &(Handle, Handle, Option<Handle>)) -> Vec<&Handle> {
    let mut handles = vec![number, hard];
    handles.extend(unconnected.as_ref());
    handles
}

fn three((a, b, c): &Three) -> Vec<&Handle> {
    vec![a, b, c]
}

/// Answers each item by a method, charged by what its amounts carry.
fn each<T>(
    store: Store<'_>,
    items: &[T],
    handles: impl for<'b> Fn(&'b T) -> Vec<&'b Handle>,
    work: impl Fn(&Call<'_>, &T) -> wasmtime::Result<Option<Measured>>,
) -> wasmtime::Result<Answers> {
    let mut call = Call::begin(store, items.len())?;
    let mut answers = Vec::with_capacity(items.len());
    for item in items {
        charge(&mut call, &handles(item), cost::METHOD)?;
        let found = work(&call, item)?;
        answers.push(found.map(|amount| keep(&mut call, amount)).transpose()?);
    }
    Ok(answers)
}

/// The same for items that are lists themselves.
fn each_list<T>(
    store: Store<'_>,
    items: &[Vec<(Handle, T)>],
    work: impl Fn(&Call<'_>, &[(Handle, T)]) -> wasmtime::Result<Option<Measured>>,
) -> wasmtime::Result<Answers> {
    let handles = |item: &Vec<(Handle, T)>| item.len();
    let mut call = Call::begin(store, items.iter().map(handles).sum())?;
    let mut answers = Vec::with_capacity(items.len());
    for item in items {
        // A composite is tried once more for each of its parts.
        let tries = cost::METHOD.saturating_mul(item.len() as u64);
        charge(&mut call, &item.iter().map(|(handle, _)| handle).collect::<Vec<_>>(), tries)?;
        let found = work(&call, item)?;
        answers.push(found.map(|amount| keep(&mut call, amount)).transpose()?);
    }
    Ok(answers)
}

/// Charges for a method on these amounts: one try of it to both sides of each, and an amount that carries no more than all.
fn charge(call: &mut Call<'_>, handles: &[&Handle], method: u64) -> wasmtime::Result<()> {
    let mut carried = 0;
    for handle in handles {
        carried += parts(call.amount(handle)?);
    }
    let tries = method.saturating_mul(1 + 2 * handles.len() as u64);
    let made = cost::AMOUNT.saturating_add(cost::TERM.saturating_mul(carried as u64));
    call.charge(tries.saturating_add(made))
}

fn amount<'a>(call: &'a Call<'_>, handle: &Handle, dimension: Dimension) -> wasmtime::Result<&'a Measured> {
    let amount = call.amount(handle)?;
    let given = amount.value().dimension();
    if given == dimension {
        return Ok(amount);
    }
    Err(misuse(&format!("{given:?} was given where {dimension:?} belongs")))
}

/// Gives a result to the module, which has been charged for it.
fn keep(call: &mut Call<'_>, result: Measured) -> wasmtime::Result<Handle> {
    if !result.value().si().is_finite() || !result.spread().si().is_finite() {
        return Err(misuse("its arithmetic left the range of numbers"));
    }
    Ok(call.state().hand(result)?)
}

fn misuse(why: &str) -> wasmtime::Error {
    Stop::misuse(format!("It asked for a flow of rain that cannot be worked out: {why}.")).into()
}
