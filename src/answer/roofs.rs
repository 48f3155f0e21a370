//! Roof files that are ordered together: read, framed, laid and cut. A single one uses the same code.

use std::path::Path;

use crate::frame::HungFrame;
use crate::key;
use crate::measure::{Units, Writing};
use crate::order::cutting::NoPlan;
use crate::order::{Framed, Order, Prices, Roof, SectionAsk, SectionOrder, Tag, lumber};
use crate::plan::{Asked, Fault, Faults, OrderPlan, Place, Used, together};

use super::framing::Framing;
use super::no_answer::all;
use super::{Asker, Input, NoAnswer, Refused, search};

/// Roofs that are ordered together, one at least.
pub(super) struct Roofs {
    framings: Vec<Framing>,
    /// How they are called and how often each is built.
    pub(super) tags: Vec<Tag>,
}

impl Roofs {
    /// Reads and frames every roof; reports the faults of all files at once.
    pub(super) fn read(inputs: Vec<Input>) -> Result<Roofs, NoAnswer> {
        let plans = all(inputs.iter().map(|input| input.plan(OrderPlan::read)))?;
        let said: Vec<(Option<String>, u32)> = plans
            .iter()
            .zip(&inputs)
            .map(|(plan, input)| (called(plan, input, inputs.len()), plan.buy.buildings))
            .collect();
        refuse_apart(&inputs, &plans)?;
        let framings =
            all(plans.into_iter().zip(inputs).map(|(plan, input)| Framing::of(plan, input)))?;
        Ok(Roofs { framings, tags: Tag::of_files(&said) })
    }

    /// The roof of the first file.
    pub(super) fn first(&self) -> &Framing {
        &self.framings[0]
    }

    /// The plan of every roof.
    pub(super) fn plans(&self) -> Vec<&OrderPlan> {
        self.framings.iter().map(|one| &one.plan).collect()
    }

    /// What the roofs have besides but what is not framed here, by name: their lumber is on no list.
    pub(super) fn lacks(&self) -> Vec<String> {
        let of = |(one, tag): (&Framing, &Tag)| {
            let lacks = one.sticks().hung.map(HungFrame::lacks).unwrap_or_default();
            let letter = tag.letter.clone();
            lacks.into_iter().map(move |words| match &letter {
                Some(letter) => format!("{words} of {letter}"),
                None => words,
            })
        };
        self.framings.iter().zip(&self.tags).flat_map(of).collect()
    }

    /// The values used for every roof, for the order's page.
    pub(super) fn used(&self) -> Vec<Vec<Used>> {
        self.framings.iter().map(|one| one.plan.told()).collect()
    }

    /// Lays every deck.
    fn laid(&self, asker: &dyn Asker) -> Result<Vec<Roof<'_>>, NoAnswer> {
        all(self.framings.iter().zip(&self.tags).map(|(one, tag)| {
            let sticks = one.sticks();
            // the faces of other roofs are laid with their goods
            let laid = sticks.gable.map(|_| one.laid(asker)).transpose()?;
            Ok(Roof { tag: tag.clone(), plan: &one.plan, sticks, laid })
        }))
    }

    /// Lays every deck, cuts every section of all frames together, and makes the order.
    pub(super) fn ordered(
        &self,
        prices: Option<&Prices>,
        units: Units,
        asker: &dyn Asker,
    ) -> Result<Order, NoAnswer> {
        let roofs = self.laid(asker)?;
        let sections = self.cut(prices, units, asker)?;
        Ok(Order::new(roofs, sections, prices, units))
    }

    /// The same without any lumber, for those who need no more: no stick is cut.
    pub(super) fn without_lumber(
        &self,
        prices: Option<&Prices>,
        units: Units,
        asker: &dyn Asker,
    ) -> Result<Order, NoAnswer> {
        Ok(Order::new(self.laid(asker)?, Vec::new(), prices, units))
    }

    /// Cuts every section of all frames together.
    pub(super) fn cut(
        &self,
        prices: Option<&Prices>,
        units: Units,
        asker: &dyn Asker,
    ) -> Result<Vec<SectionOrder>, Refused> {
        let frames: Vec<Framed<'_>> = self
            .framings
            .iter()
            .zip(&self.tags)
            .map(|(one, tag)| Framed { tag: tag.clone(), sticks: one.sticks(), buy: &one.plan.buy })
            .collect();
        let none = Prices::default();
        lumber::asks(&frames, prices.unwrap_or(&none), units)
            .into_iter()
            .map(|ask| {
                let title = ask.section.write(units);
                search::cut(ask.problem(), asker, |control| SectionAsk::solve(ask.clone(), control))
                    .map_err(|why| self.first().input.refused(cannot_cut(&title, why)))
            })
            .collect()
    }
}

fn cannot_cut(title: &str, why: NoPlan) -> Faults {
    let place = || Place::Missing { key: key!("order.lengths").name(), flag: None };
    match why {
        NoPlan::Faults(faults) => faults
            .into_iter()
            .map(|fault| Fault::new(place(), format!("{title}: {}", fault.message), fault.help))
            .collect(),
        NoPlan::NotEnoughStock { .. } => Faults::from(Fault::new(
            place(),
            format!("{title}: the sticks on hand do not suffice for all pieces"),
            "name more lengths that can be bought under [order] lengths or in the prices file, or leave on_hand blank there",
        )),
    }
}

/// Name of the job; if it has none and there are several files, the file's name.
fn called(plan: &OrderPlan, input: &Input, files: usize) -> Option<String> {
    let own = plan.gable.rafter.name.clone();
    let stem = || {
        let stem = Path::new(&input.file.as_ref()?.name).file_stem()?;
        Some(stem.to_string_lossy().into_owned())
    };
    if files > 1 { own.or_else(stem) } else { own }
}

fn refuse_apart(inputs: &[Input], plans: &[OrderPlan]) -> Result<(), NoAnswer> {
    let writing = match inputs[0].units() {
        Units::Millimeters => Writing::METRIC,
        _ => Writing::default(),
    };
    let apart = together(plans, writing);
    all(inputs.iter().enumerate().map(|(place, input)| {
        let asked = Asked::new(&input.entries);
        let faults: Faults = apart
            .iter()
            .filter(|apart| apart.roof == place)
            .map(|apart| Fault::new(asked.place(apart.key), &apart.message, apart.help))
            .collect();
        if faults.is_empty() { Ok(()) } else { Err(input.refused(faults)) }
    }))
    .map(|_| ())
}
