//! The whole gable frame, assembled.

use crate::key;
use crate::measure::Amount::{self, Inches};
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::LAST_BITS;
use crate::measure::{Length, Note};
use crate::plan::{GablePlan, RakeFraming, TailCut};
use crate::roof::{Roof, Shape};

use super::common::{CannotBuild, CommonRafter};
use super::layout::{self, LayoutLine};
use super::member::{Member, Members};
use super::pair::Pair;
use super::rake_places::LEAST_LEFT_IN;
use super::role::Role;
use super::site::Site;
use super::stick::{Edge, Side};
use super::ties::{self, TieStory};
use super::{ceiling, eave_boards, gable_end, opening, rafters, rake, ridge};

/// A framed gable: every stick, every mark, and how it is tied.
#[derive(Debug, Clone)]
pub struct Frame {
    /// The plan.
    pub plan: GablePlan,
    /// The pattern rafter.
    pub rafter: CommonRafter,
    /// Planes and edges.
    pub roof: Roof,
    /// Shared numbers.
    pub site: Site,
    /// The pairs of rafters, near end to far end.
    pub pairs: Vec<Pair>,
    /// Every pattern with its placements.
    pub members: Vec<Member>,
    /// Tape marks.
    pub layout: Vec<LayoutLine>,
    /// What ties the pairs.
    pub ties: TieStory,
    /// Notes: what was left out and why.
    pub notes: Vec<Note>,
}

/// Sticks that depend on the same numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Group {
    /// The rafters of all pairs.
    Pairs,
    /// Barge rafters.
    Barges,
    /// The ridge board.
    Ridge,
    /// Ceiling joists, rafter ties, collar ties; refuses what does not fit under the ridge.
    Ceiling,
    /// Gable studs and the vent's frame.
    GableEnds,
    /// What carries the rake overhang.
    Rake,
    /// Top plates.
    Plates,
    /// Blocks over the plates.
    Blocking,
    /// Sub-fascia and fascia.
    Boards,
    /// Soffit framing.
    Soffit,
}

impl Group {
    /// All of them: the whole frame.
    pub const ALL: [Group; 10] = [
        Group::Pairs,
        Group::Barges,
        Group::Ridge,
        Group::Ceiling,
        Group::GableEnds,
        Group::Rake,
        Group::Plates,
        Group::Blocking,
        Group::Boards,
        Group::Soffit,
    ];
}

impl Frame {
    /// Frames the roof.
    ///
    /// ```
    /// use stepoff::frame::{Frame, Role};
    /// use stepoff::plan::{Entries, GablePlan, file};
    ///
    /// let mut entries = Entries::default();
    /// let roof = "[building]\nlength = '22ft'\nspan = '14ft'\n[roof]\npitch = '6/12'";
    /// file::read(roof, &mut entries);
    /// let frame = Frame::build(&GablePlan::read(&entries).unwrap()).unwrap();
    /// let rafters = frame.members.iter().find(|member| member.role == Role::CommonRafter);
    /// assert_eq!(rafters.unwrap().count(), 36); // 18 pairs at 16 in on center
    /// ```
    ///
    /// # Errors
    /// [`CannotBuild`] if the numbers do not give a frame.
    pub fn build(plan: &GablePlan) -> Result<Frame, CannotBuild> {
        Frame::of_groups(plan, &Group::ALL)
    }

    /// The frame with only the sticks of some groups. Pattern, shared numbers, pairs and planes are
    /// those of the whole frame; so are the ties, if the ceiling is among the groups.
    ///
    /// # Errors
    /// [`CannotBuild`] as for the whole frame, except for faults found only by a group left out.
    pub fn of_groups(plan: &GablePlan, groups: &[Group]) -> Result<Frame, CannotBuild> {
        refuse_more_than_a_gable(plan)?;
        let rafter = CommonRafter::build(&plan.rafter)?;
        let site = Site::new(plan, &rafter);
        refuse_leaning_tail(&rafter)?;
        refuse_ridge(&site)?;
        refuse_rip(plan, &rafter, &site)?;
        let pairs = layout::pairs(plan, &site);
        let outlookers = rake::outlooker_places(plan, &rafter, &site, &pairs);
        let mut notes = Vec::new();
        let mut members = Members::default();
        for group in groups {
            let (members, notes) = (&mut members, &mut notes);
            match group {
                Group::Pairs => {
                    rafters::pairs(plan, &rafter, &site, &pairs, &outlookers, members)?;
                    rafters::tell_wide_bay(plan, &pairs, notes);
                }
                Group::Barges => rafters::barges(plan, &rafter, &site, members)?,
                Group::Ridge => ridge::add(plan, &site, &pairs, members, notes)?,
                Group::Ceiling => ceiling::add(plan, &site, &pairs, members, notes)?,
                Group::GableEnds => gable_end::add(plan, &site, members, notes)?,
                Group::Rake => {
                    rake::add(plan, &rafter, &site, &pairs, &outlookers, members, notes)?;
                }
                Group::Plates => eave_boards::plates(plan, &site, members, notes)?,
                Group::Blocking => {
                    eave_boards::blocking(plan, &site, &pairs, members, notes)?;
                }
                Group::Boards => eave_boards::boards(plan, &rafter, &site, &pairs, members)?,
                Group::Soffit => {
                    eave_boards::soffit(plan, &rafter, &site, &pairs, members, notes)?;
                }
            }
        }
        let members = members.finish(&site, &pairs);
        let ties = ties::story(plan, &rafter, &site, &pairs, &members);
        notes.extend(ties.opening.as_ref().and_then(opening::note));
        Ok(Frame {
            roof: Roof::of(vec![Shape::of(plan, rafter.heel_stand).main.block()]),
            layout: [layout::lines(plan, &site, &pairs), layout::gable_lines(&site, &members)]
                .concat(),
            plan: told(plan, groups, &members),
            rafter,
            site,
            pairs,
            members,
            ties,
            notes,
        })
    }

    /// The rafters of some of its pairs, as patterns.
    ///
    /// # Errors
    /// [`CannotBuild`] if the cuts leave no rafter.
    pub fn rafters_of(&self, pairs: &[Pair]) -> Result<Vec<Member>, CannotBuild> {
        let mut members = Members::default();
        let (plan, rafter, site) = (&self.plan, &self.rafter, &self.site);
        let outlookers = rake::outlooker_places(plan, rafter, site, &self.pairs);
        rafters::pairs(plan, rafter, site, pairs, &outlookers, &mut members)?;
        Ok(members.finish(site, pairs))
    }

    /// Bottom of the ridge board above the plate; of the rafters at the peak if they butt.
    #[must_use]
    pub fn ridge_bottom(&self) -> Length {
        inches(if self.site.half_ridge > 0.0 {
            self.site.ridge_top - self.site.ridge_depth
        } else {
            self.site.roof_height(self.site.run) - self.site.depth * self.site.secant
        })
    }

    /// Length of a temporary post from the floor to the bottom of the ridge board.
    #[must_use]
    pub fn ridge_post(&self) -> Length {
        self.plan.wall_height + self.ridge_bottom()
    }

    /// The highest point of the rafters' top edges, extended to the ridge's center, above the plate.
    #[must_use]
    pub fn peak(&self) -> Length {
        let (apex, top) = (self.rafter.apex, self.rafter.ridge_top);
        if apex > top { apex } else { top }
    }

    /// How much is ripped off the end rafters for outlookers; `None` if nothing is.
    #[must_use]
    pub fn end_rip(&self) -> Option<Length> {
        let ripped = self.site.rake > 0.0 && self.plan.rake_framing == RakeFraming::Over;
        ripped.then_some(self.plan.outlooker.thickness)
    }

    /// Difference in length of gable studs one spacing apart: spacing times the tangent of the slope.
    #[must_use]
    pub fn gable_stud_difference(&self) -> Length {
        self.plan.gable_spacing * self.site.tangent
    }

    /// Numbers, from 1, of the pairs with rafters offset across the ridge.
    #[must_use]
    pub fn differing_marks(&self) -> Vec<usize> {
        self.pairs
            .iter()
            .enumerate()
            .filter(|(_, pair)| (pair.x_a - pair.x_b).abs() > LAST_BITS)
            .map(|(index, _)| index + 1)
            .collect()
    }

    /// Along the ridge over both rakes, outer face of one barge rafter to that of the other.
    #[must_use]
    pub fn over_all_length(&self) -> Length {
        self.plan.length + self.plan.rake * 2.0
    }

    /// Number of sticks in all.
    #[must_use]
    pub fn stick_count(&self) -> usize {
        self.members.iter().map(Member::count).sum()
    }
}

/// Refuses a roof that is more than one gable: this frame has no sticks for it.
fn refuse_more_than_a_gable(plan: &GablePlan) -> Result<(), CannotBuild> {
    let beyond = plan.blocks.beyond_one_gable(plan.rafter.pitch);
    beyond.first().map_or(Ok(()), |(key, _)| {
        let words: Vec<&str> = beyond.iter().map(|(_, word)| *word).collect();
        Err(CannotBuild {
            key: *key,
            message: format!("a roof with {} is not framed here yet", words.join(" and ")).into(),
            help: "stepoff frame has what is known of it".into(),
        })
    })
}

/// Refuses a square tail so short that its foot, and the boards on it, would lean in under the plate.
fn refuse_leaning_tail(rafter: &CommonRafter) -> Result<(), CannotBuild> {
    let tail = &rafter.stick.trims[1].cut.planes[0];
    let foot = rafter.stick.station(tail, Edge::Bottom, Side::Near);
    let foot = foot.map_or(0.0, |station| rafter.stick.point(station, Edge::Bottom, Side::Near).y);
    if rafter.plan.tail != TailCut::Square || foot <= LAST_BITS {
        return Ok(());
    }
    Err(CannotBuild {
        key: key!("eave.overhang"),
        message: Note::with(
            "the foot of the square tail lies {} inside the building line, where the wall stands",
            [Inches(foot)],
        ),
        help: "write a longer overhang, or tail = \"plumb\"".into(),
    })
}

/// Refuses a ridge board so deep that it would run into the end walls below the plates.
fn refuse_ridge(site: &Site) -> Result<(), CannotBuild> {
    let bottom = site.ridge_top - site.ridge_depth;
    if site.half_ridge == 0.0 || bottom >= -LAST_BITS {
        return Ok(());
    }
    Err(CannotBuild {
        key: key!("ridge.depth"),
        message: Note::with(
            "the ridge board hangs {} below the top of the plates",
            [Inches(-bottom)],
        ),
        help: "take a shallower ridge board, shallower rafters or more pitch".into(),
    })
}

/// The plan without the defaults that shaped no stick: what did not fit and is not framed used no
/// values. Values that the user gave are kept.
fn told(plan: &GablePlan, groups: &[Group], members: &[Member]) -> GablePlan {
    const SHAPED_BY: [(Group, &str, Role); 2] =
        [(Group::Ceiling, "collar", Role::CollarTie), (Group::GableEnds, "gable", Role::GableStud)];
    let mut plan = plan.clone();
    for (group, table, role) in SHAPED_BY {
        if groups.contains(&group) && !members.iter().any(|member| member.role == role) {
            let used = &mut plan.rafter.used;
            used.retain(|used| used.given || used.field.table() != table);
        }
    }
    plan
}

/// Refuses a rip or notch for outlookers that leaves an end rafter too little wood.
fn refuse_rip(plan: &GablePlan, rafter: &CommonRafter, site: &Site) -> Result<(), CannotBuild> {
    if !site.outlookers {
        return Ok(());
    }
    let taken = plan.outlooker.thickness_in();
    let (left, least, where_left) = match plan.rake_framing {
        RakeFraming::Over => (rafter.remaining.inches() - taken, LAST_BITS, "over its birdsmouth"),
        RakeFraming::Notched | RakeFraming::Ladder => {
            (site.depth - taken, LEAST_LEFT_IN, "under each outlooker")
        }
    };
    if left >= least {
        return Ok(());
    }
    let cut = match plan.rake_framing {
        RakeFraming::Over => "ripped",
        RakeFraming::Notched | RakeFraming::Ladder => "notched",
    };
    let is_gone = left <= LAST_BITS;
    let keeps = if is_gone { "nothing{}" } else { "only {}" };
    Err(CannotBuild {
        key: key!("rake.stock"),
        message: Note::with(
            format!(
                "the end rafter is {{}} deep; {cut} by {{}} for the outlookers it keeps {keeps} {where_left}"
            ),
            [
                Inches(site.depth),
                Inches(taken),
                if is_gone { Amount::from("") } else { Inches(left) },
            ],
        ),
        help: Note::with(
            "write outlookers under {} thick (2x4 laid flat takes {}), framing = \"ladder\", or deeper rafters",
            [Inches(taken + left - least), Inches(1.5)],
        ),
    })
}
