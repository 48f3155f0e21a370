//! Any roof with its sticks as patterns, its tape marks, and what is to be known of it.

use crate::catalog::lumber::{Section, one_size_deeper};
use crate::frame::common::CommonRafter;
use crate::frame::layout::{LayoutLine, LineKind, Standing};
use crate::frame::member::Member;
use crate::frame::opening;
use crate::frame::role::Role;
use crate::frame::stick::Side;
use crate::geom::DVec2;
use crate::measure::quantity::{Angle, inches, radians};
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Note};
use crate::plan::{
    Blocking, GablePlan, Joists, LayoutFrom, OverhangFrom, RafterPlan, Slopes, TailCut,
};
use crate::roof::{EdgeKind, Shape, Wall, WallLine, slopes};

use super::bays::{self, Bay, Reach};
use super::blame::NotFramed;
use super::choices::Choices;
use super::fits::misfit;
use super::left_out::LeftOut;
use super::marks::{self, MarkRow};
use super::measured::{self, StickEnd, UnderEdgeStory};
use super::past_walls;
use super::{HungRoof, patterns, sticks_of, told};

/// A roof of any shape, framed.
#[derive(Debug, Clone)]
pub struct HungFrame {
    /// The plan.
    pub plan: GablePlan,
    /// The pattern rafter as a gable of this span and pitch has it: its heel stand is that of all slopes.
    pub rafter: CommonRafter,
    /// The pattern rafters that the roof has, each with the number of its pattern.
    pub pattern_rafters: Vec<(CommonRafter, usize)>,
    /// Faces, lines, walls and the sticks one by one.
    pub hung: HungRoof,
    /// Every pattern with its placements.
    pub members: Vec<Member>,
    /// Where the sticks under the faces reach.
    pub reaches: Vec<Reach>,
    /// The widest bay of every face.
    pub bays: Vec<Bay>,
    /// Tape marks along plates, ridges, hips and valleys.
    pub layout: Vec<LayoutLine>,
    /// What is to be known besides.
    pub notes: Vec<Note>,
}

/// What the code wants under hips and valleys.
const SUPPORT: &str = "support hips and valleys at the ridge by a brace to a bearing partition, or have them designed (IRC R802.4.3)";

impl HungFrame {
    /// Frames a roof.
    ///
    /// # Errors
    /// Why its sticks are not framed.
    pub fn build(
        plan: &GablePlan,
        rafter: &CommonRafter,
        shape: &Shape,
    ) -> Result<HungFrame, NotFramed> {
        let mut hung = sticks_of(shape, &Choices::of(plan, rafter))
            .map_err(|why| NotFramed::cannot(&why, shape))?;
        if let Some(misfit) = misfit(&hung) {
            return Err(NotFramed::misfit(&misfit, shape));
        }
        let members =
            patterns::members(&hung).map_err(|why| NotFramed { why: why.message, at: None })?;
        let reaches = bays::reaches(&hung);
        // every pattern has its own from here on
        hung.bodies = Vec::new();
        let bays = bays::widest(&hung.ground, &reaches);
        let rows = marks::rows(&hung.ground, &hung.sticks);
        let pattern_rafters = pattern_rafters(plan, rafter, &members);
        Ok(HungFrame {
            pattern_rafters,
            layout: rows.iter().map(|row| line(row, &rows, &members)).collect(),
            notes: notes(plan, shape, &hung, &members, &bays),
            reaches,
            bays,
            plan: plan.clone(),
            rafter: rafter.clone(),
            hung,
            members,
        })
    }
}

/// The pattern rafter of every slope on its own: those of the main block, then the wings', each with how much higher its plate is than
/// the main one.
#[must_use]
pub fn slope_plans(plan: &GablePlan, heel_stand: Length) -> Vec<(RafterPlan, Length)> {
    let own = slopes::rafters(&plan.rafter, &Slopes::of(plan), heel_stand).ok();
    let plate_b = plan.blocks.plate_b;
    let mut plans: Vec<(RafterPlan, Length)> = own
        .into_iter()
        .flat_map(|(first, slope_b)| {
            let slope_b = slope_b.map(|rafter| (rafter, plate_b));
            std::iter::once((first, inches(0.0))).chain(slope_b)
        })
        .collect();
    plans.extend(plan.blocks.wings.iter().map(|wing| {
        let own = RafterPlan {
            span: wing.span,
            overhang: wing.overhang,
            overhang_from: OverhangFrom::Framing,
            ..plan.rafter.clone()
        };
        let name = format!("wing {}", wing.name);
        (own.of_slope(&name, wing.pitch, wing.span / 2.0, heel_stand), wing.plate)
    }));
    plans
}

/// The pattern rafters of the main block's slopes and the wings' that stand in the roof as they are.
fn pattern_rafters(
    plan: &GablePlan,
    rafter: &CommonRafter,
    members: &[Member],
) -> Vec<(CommonRafter, usize)> {
    let plans = slope_plans(plan, rafter.heel_stand);
    let mut found: Vec<(CommonRafter, usize)> = Vec::new();
    for rafter in plans.iter().filter_map(|(plan, _)| CommonRafter::build(plan).ok()) {
        let own = members
            .iter()
            .position(|member| member.role == Role::CommonRafter && is_cut_as(member, &rafter));
        if let Some(own) = own.filter(|own| found.iter().all(|(_, other)| other != own)) {
            found.push((rafter, own));
        }
    }
    found
}

/// True if a pattern is cut as a rafter is.
fn is_cut_as(member: &Member, rafter: &CommonRafter) -> bool {
    let corners = |profile: &[DVec2]| {
        let first = profile.iter().map(|at| at.x).fold(f64::INFINITY, f64::min);
        profile.iter().map(|at| *at - DVec2::X * first).collect::<Vec<_>>()
    };
    let own = corners(member.stick.profile(Side::Near));
    let known = corners(rafter.stick.profile(Side::Near));
    let near = |at: &DVec2| known.iter().any(|other| other.distance(*at) < HAIR);
    own.len() == known.len() && own.iter().all(near)
}

/// The figures of hips or valleys that are cut alike.
#[derive(Debug, Clone)]
pub struct UnderEdge<'a> {
    /// Their pattern.
    pub member: &'a Member,
    /// Above level.
    pub slope: Angle,
    /// Lengths, drop and backing.
    pub story: UnderEdgeStory,
    /// Its ends, the lower one first.
    pub ends: [StickEnd; 2],
}

impl HungFrame {
    /// The figures of every pattern of hips and valleys.
    #[must_use]
    pub fn under_edges(&self) -> Vec<UnderEdge<'_>> {
        fn of<'a>(frame: &'a HungFrame, member: &'a Member) -> Option<UnderEdge<'a>> {
            let Member { role, ids, .. } = member;
            if !matches!(role, Role::Hip | Role::Valley) {
                return None;
            }
            let own = frame.hung.sticks.iter().find(|stick| Some(&stick.id) == ids.first())?;
            let slope = radians(own.axis.along.z.asin());
            let story = measured::under_edge(&frame.hung.ground, own)?;
            let ends = measured::ends(&own.stick()?)?;
            Some(UnderEdge { member, slope, story, ends })
        }
        self.members.iter().filter_map(|member| of(self, member)).collect()
    }
}

impl HungFrame {
    /// What a roof of this plan has besides but what is not framed here, by name.
    #[must_use]
    pub fn lacks(&self) -> Vec<String> {
        let plan = &self.plan;
        let has = |role: Role| self.members.iter().any(|member| member.role == role);
        let edge = |kind: EdgeKind| self.hung.seen.edges.iter().any(|edge| edge.kind == kind);
        let has_gable = self.hung.ground.walls.iter().any(WallLine::is_gable_end);
        let has_joists = plan.joists == Joists::Beside;
        let has_rake = has_gable && self.hung.ground.walls.iter().any(WallLine::has_rake);
        let lacks = [
            (has_joists, Role::CeilingJoist, "ceiling joists"),
            (plan.joists == Joists::Across, Role::RafterTie, "rafter ties"),
            (plan.collars && edge(EdgeKind::Ridge), Role::CollarTie, "collar ties"),
            (plan.gable_studs && has_gable, Role::GableStud, "gable studs"),
            (has_rake, Role::BargeRafter, "barge rafters and what carries the rake overhang"),
            (plan.blocking != Blocking::None, Role::Blocking, "blocking over the plates"),
            (plan.soffit_framing, Role::SoffitLookout, "soffit framing"),
        ];
        let mut words: Vec<String> = Vec::new();
        if plan.joists == Joists::Across {
            words.push("ceiling joists across the rafters".to_owned());
        }
        // where a part lacks them, that and the reason; otherwise what is missing altogether
        let few = |role: Role| self.hung.left_out.iter().filter(move |left| left.role == role);
        for (wanted, role, all) in lacks {
            if few(role).next().is_none() && wanted && !has(role) {
                words.push(all.to_owned());
            }
        }
        words.extend(self.hung.left_out.iter().map(LeftOut::told));
        match plan.rafter.tail {
            TailCut::Square if !self.hung.ground.has_square_tails() => {
                words.push(
                    "square tails: where slopes or eaves at a hip or valley are unlike, all are cut plumb".to_owned(),
                );
            }
            TailCut::Square if !self.hung.ground.laid.is_empty() => {
                words.push("square tails of dormers: they are cut plumb".to_owned());
            }
            TailCut::Square if plan.blocks.shed => {
                words.push("square cuts of tails that rise: they are cut plumb".to_owned());
            }
            TailCut::Level if plan.blocks.shed => {
                words.push("level soffit cuts of tails that rise: they are cut plumb".to_owned());
            }
            TailCut::Plumb | TailCut::Level | TailCut::Square => {}
        }
        let hip_near = |wall: &WallLine| wall.wall == Wall::Near && wall.slope.is_some();
        if plan.layout_from == LayoutFrom::Rake && self.hung.ground.walls.iter().any(hip_near) {
            words.push("a layout from the rake at hip ends: it starts at the end wall".to_owned());
        }
        let bare = told::bare(&self.hung.ground, &self.bays);
        if !bare.is_empty() {
            words.push(format!("rafters of {}, or what carries them", bare.join(", ")));
        }
        let has_boards = plan.rafter.boards() > inches(0.0);
        if has_boards && !self.hung.without_boards.is_empty() {
            let faces = self.hung.without_boards.join(", ");
            words.push(format!("fascia and sub-fascia at the eaves of {faces}"));
        }
        words
    }
}

impl Choices {
    /// The choices of a plan.
    #[must_use]
    pub fn of(plan: &GablePlan, rafter: &CommonRafter) -> Choices {
        let blocks = &plan.blocks;
        let deeper = || {
            let stock = &plan.rafter.stock;
            one_size_deeper(stock).unwrap_or_else(|| stock.clone())
        };
        let board = |thickness: Length, depth: Length| {
            (thickness > inches(0.0)).then(|| Section::sized(thickness, depth))
        };
        Choices {
            rafter: plan.rafter.stock.clone(),
            hip: blocks.hip.clone().unwrap_or_else(deeper),
            valley: blocks.valley.clone().unwrap_or_else(deeper),
            ridge: plan.rafter.ridge,
            ridge_depth: plan.rafter.ridge_depth,
            spacing: plan.spacing,
            plate: plan.rafter.plate,
            fascia: board(plan.rafter.fascia, rafter.fascia_depth(plan.soffit)),
            subfascia: board(plan.rafter.subfascia, rafter.subfascia_depth()),
            square_tails: plan.rafter.tail == TailCut::Square,
            tail_face: (plan.rafter.tail == TailCut::Level)
                .then(|| plan.rafter.tail_face.unwrap_or(plan.rafter.stock.depth)),
            from_rake: plan.layout_from == LayoutFrom::Rake,
            longest: plan.longest,
            deck: blocks.deck,
            laid_over: blocks.laid_over.clone(),
            backed: blocks.backed,
            infill: Some(Box::new(plan.clone())),
        }
    }
}

/// What is to be known of the sticks.
fn notes(
    plan: &GablePlan,
    shape: &Shape,
    hung: &HungRoof,
    members: &[Member],
    bays: &[Bay],
) -> Vec<Note> {
    let carried = |member: &Member| matches!(member.role, Role::Hip | Role::Valley);
    let mut notes = Vec::new();
    if members.iter().any(carried) {
        notes.push(Note::from(SUPPORT));
    }
    if plan.rafter.boards() > inches(0.0) && !hung.without_boards.is_empty() {
        notes.push(Note::from(format!(
            "no fascia is framed at the eaves of {}: eaves of unlike height or reach pass each other there",
            hung.without_boards.join(", ")
        )));
    }
    notes.extend(told::notes(&hung.ground));
    notes.extend(told::of_bays(&hung.ground, bays));
    let whole = shape.roof();
    notes.extend(whole.iter().flat_map(|whole| past_walls::notes(whole, &hung.ground.walls)));
    notes.extend(told::of_ceiling(&hung.ground, &hung.sticks));
    notes.extend(hung.attic.as_ref().and_then(opening::note_at));
    let wall_b = hung.ground.walls.iter().find(|wall| wall.block == "main" && wall.wall == Wall::B);
    if let Some(wall_b) = wall_b.filter(|_| plan.blocks.shed) {
        let height_b = plan.wall_height + inches(hung.ground.plate_top(wall_b));
        notes.push(Note::with(
            "wall B is {} from floor to the top of its plate: the rafters sit on both plates alike, with the heel of the upper birdsmouth against its inner face",
            [height_b],
        ));
    }
    notes.extend(hung.without_post().into_iter().map(|line| {
        Note::from(format!(
            "nothing carries the head of {line}: a post must stand under it, down to a bearing"
        ))
    }));
    notes
}

/// A row of marks as a layout line. Where several faces are marked on one thing, the face is named.
fn line(row: &MarkRow, rows: &[MarkRow], members: &[Member]) -> LayoutLine {
    let of = |id: &str| members.iter().find(|member| member.ids.iter().any(|own| own == id));
    let several = rows.iter().filter(|other| other.on == row.on).count() > 1;
    let on = if several { format!("{}, face {}", row.on, row.face) } else { row.on.clone() };
    let standing = row.marks.iter().filter_map(|mark| {
        let member = of(&mark.id)?;
        Some(Standing {
            at: inches(mark.at),
            covers: inches(mark.covers),
            mark: member.mark.clone(),
            id: mark.id.clone(),
            role: member.role,
        })
    });
    LayoutLine {
        kind: LineKind::Side,
        length: inches(row.length),
        on: on.into(),
        from: row.from,
        marks: row.marks.iter().map(|mark| inches(mark.at)).collect(),
        joist_marks: Vec::new(),
        known_as: of(&row.on).map(|own| format!("{} {}", own.role.words(), own.mark)),
        x_side: "beyond the mark",
        standing: standing.collect(),
    }
}
