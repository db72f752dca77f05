//! Every id of the outcome, once: name, dimension, the unit it is printed in, which side is costly, and one sentence. Inputs of the
//! chain and its results stand in one table, because each number the chain used is among the values.

use crate::formulas::registry::Key;
use crate::units::*;

/// Which side of the middle costs the maker if it comes true.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Costly {
    /// More of it costs: yarn, hours, breaks. The safe figure is the 90 % point.
    More,
    /// Less of it costs: strength, cover, length on a bobbin. The safe figure is the 10 % point.
    Less,
    /// Neither.
    Neither,
}

/// A key with its type gone.
pub struct KeyInfo {
    pub name: &'static str,
    pub unit: AnyUnit,
    pub kind: Kind,
    pub costly: Costly,
    /// One sentence for the reader.
    pub says: &'static str,
}

macro_rules! keys {
    ($($const:ident = $name:literal $dim:ident $unit:ident $costly:ident $says:literal;)*) => {
        #[allow(non_camel_case_types, clippy::upper_case_acronyms)]
        enum Slot { $($const),*, COUNT }
        /// How many ids there are.
        pub const IDS: usize = Slot::COUNT as usize;
        $(#[doc = $says] pub static $const: Key<$dim> = Key { slot: Slot::$const as u16, name: $name, unit: &$unit };)*
        /// All ids, by slot.
        pub static ALL: [KeyInfo; IDS] = [$(KeyInfo {
            name: $name, unit: AnyUnit { name: $unit.name, scale: $unit.scale }, kind: $dim::KIND, costly: Costly::$costly, says: $says,
        }),*];
    };
}

keys! {
    MICRONAIRE = "fibre.micronaire" Micronaire MIC Neither "Airflow fineness of the cotton.";
    FIBRE_DIAMETER = "fibre.diameter" Length UM Neither "Thickness of one fibre.";
    FIBRE_FINENESS = "fibre.linear_density" LinearDensity MTEX Neither "Mass of a kilometre of one fibre.";
    FIBRE_LENGTH = "fibre.length" Length MM Less "Usual length of the fibre, its staple.";
    FIBRE_DENSITY = "fibre.density" Density G_CM3 Neither "Density of the fibre itself, at 65 % humidity.";
    FIBRE_TENACITY = "fibre.tenacity" Tenacity CN_TEX Less "Strength of the fibre for its fineness.";
    LIMIT_CONSTANT = "fibre.limit_constant" Ratio ONE Neither "Constant of the least unevenness for this fibre.";

    REALISED = "yarn.realised_share" Ratio PERCENT Less "Share of the fibre's strength that a mill yarn shows.";
    HAND_SHARE = "yarn.hand_share" Ratio PERCENT Less "Strength of a hand-spun yarn against a mill yarn of the same count.";
    PRACTICAL_CONTRACTION = "yarn.practical_contraction" Ratio ONE Neither "Share of the ideal shortening by twist that real yarn shows.";
    MIGRATION = "yarn.migration" Length MM Neither "Length over which a fibre wanders from core to surface.";
    FIBRE_FRICTION = "yarn.fibre_friction" Ratio ONE Neither "Friction of fibre on fibre.";
    USUAL_ANGLE = "yarn.usual_angle" Angle DEG Neither "Surface angle of the mill yarn that the strength is taken from.";
    EXTENSION = "yarn.breaking_extension" Ratio PERCENT Less "How far the yarn stretches before it breaks.";
    STRENGTH_CV = "yarn.strength_cv" Ratio PERCENT More "Spread of the break load from place to place.";
    BALANCE = "yarn.ply_balance" Ratio ONE Neither "Ply twist as a share of the singles' twist.";
    PLY_CONTRACTION = "yarn.ply_contraction" Ratio PERCENT Neither "Length lost, or gained, by plying.";
    GAUGE = "yarn.gauge" Length CM Neither "Length of one link in the break test.";
    RETAINED = "yarn.retained" Ratio ONE Less "Share of its strength that rubbing in the heddle leaves a yarn.";
    COUNT_MISS = "yarn.count_miss" Ratio PERCENT Neither "How far the mean count of a whole batch usually lands from the one planned.";
    FEWEST_FIBRES = "yarn.fewest_fibres" Number EACH Neither "Fewest fibres in a section that a hand can keep together as warp.";

    WARP_COUNT = "yarn.warp.count" LinearDensity TEX Neither "Count of the warp yarn as woven, washed and relaxed.";
    WARP_PLIES = "yarn.warp.plies" Number EACH Neither "Singles in the warp yarn.";
    WARP_SINGLE = "yarn.warp.single_count" LinearDensity TEX Neither "Count of each single of the warp yarn.";
    WARP_GRIST = "yarn.warp.metres_per_gram" LinearDensity M_G Neither "Metres of warp yarn in a gram.";
    WARP_PACKING = "yarn.warp.packing" Ratio ONE Neither "Share of the warp yarn's body that is fibre.";
    WARP_DIAMETER = "yarn.warp.diameter" Length MM Neither "Thickness of the warp yarn, not pressed.";
    WARP_MULTIPLIER = "yarn.warp.twist_multiplier" TwistFactor TM Neither "Twist of the warp singles, free of count.";
    WARP_TWIST = "yarn.warp.twist" PerLength PER_M Neither "Turns per metre of the warp singles, as spun.";
    WARP_TWIST_LEAST = "yarn.warp.twist_least" TwistFactor TM Neither "Least twist a warp of this fibre and staple holds together with.";
    WARP_TWIST_MOST = "yarn.warp.twist_most" TwistFactor TM Neither "Most twist usual for a warp of this fibre and staple.";
    WARP_PLY_TWIST = "yarn.warp.ply_twist" PerLength PER_M Neither "Turns per metre put in when plying, the other way round.";
    WARP_TWIST_LEFT = "yarn.warp.twist_left" PerLength PER_M Neither "Turns per metre left in the singles after plying.";
    WARP_ANGLE = "yarn.warp.twist_angle" Angle DEG Neither "Slope of the fibres at the surface of the warp singles.";
    WARP_CONTRACTION = "yarn.warp.contraction" Ratio PERCENT Neither "Length the strand loses to twist.";
    WARP_FIBRES = "yarn.warp.fibres_in_section" Number EACH Less "Fibres side by side in the warp yarn.";
    WARP_LIMIT_CV = "yarn.warp.limit_cv" Ratio PERCENT Neither "Least unevenness the warp yarn can have.";
    WARP_TENACITY = "yarn.warp.tenacity" Tenacity CN_TEX Less "Strength of the warp yarn for its count.";
    WARP_BREAK = "yarn.warp.break_load" Force CN Less "Load that breaks the warp yarn, mean at 50 cm.";

    WEFT_COUNT = "yarn.weft.count" LinearDensity TEX Neither "Count of the weft yarn as woven, washed and relaxed.";
    WEFT_PLIES = "yarn.weft.plies" Number EACH Neither "Singles in the weft yarn.";
    WEFT_SINGLE = "yarn.weft.single_count" LinearDensity TEX Neither "Count of each single of the weft yarn.";
    WEFT_GRIST = "yarn.weft.metres_per_gram" LinearDensity M_G Neither "Metres of weft yarn in a gram.";
    WEFT_PACKING = "yarn.weft.packing" Ratio ONE Neither "Share of the weft yarn's body that is fibre.";
    WEFT_DIAMETER = "yarn.weft.diameter" Length MM Neither "Thickness of the weft yarn, not pressed.";
    WEFT_MULTIPLIER = "yarn.weft.twist_multiplier" TwistFactor TM Neither "Twist of the weft singles, free of count.";
    WEFT_TWIST = "yarn.weft.twist" PerLength PER_M Neither "Turns per metre of the weft singles, as spun.";
    WEFT_TWIST_LEAST = "yarn.weft.twist_least" TwistFactor TM Neither "Least twist usual for a weft of this fibre and staple.";
    WEFT_TWIST_MOST = "yarn.weft.twist_most" TwistFactor TM Neither "Most twist usual for a weft of this fibre and staple.";
    WEFT_PLY_TWIST = "yarn.weft.ply_twist" PerLength PER_M Neither "Turns per metre put in when plying, the other way round.";
    WEFT_TWIST_LEFT = "yarn.weft.twist_left" PerLength PER_M Neither "Turns per metre left in the singles after plying.";
    WEFT_ANGLE = "yarn.weft.twist_angle" Angle DEG Neither "Slope of the fibres at the surface of the weft singles.";
    WEFT_CONTRACTION = "yarn.weft.contraction" Ratio PERCENT Neither "Length the strand loses to twist.";
    WEFT_FIBRES = "yarn.weft.fibres_in_section" Number EACH Less "Fibres side by side in the weft yarn.";
    WEFT_LIMIT_CV = "yarn.weft.limit_cv" Ratio PERCENT Neither "Least unevenness the weft yarn can have.";
    WEFT_TENACITY = "yarn.weft.tenacity" Tenacity CN_TEX Less "Strength of the weft yarn for its count.";
    WEFT_BREAK = "yarn.weft.break_load" Force CN Less "Load that breaks the weft yarn, mean at 50 cm.";

    REPEAT_ENDS = "cloth.repeat_ends" Number EACH Neither "Ends in a repeat of the weave.";
    WEFT_CROSSINGS = "cloth.weft_crossings" Number EACH Neither "Times a pick changes side in a repeat.";
    REPEAT_PICKS = "cloth.repeat_picks" Number EACH Neither "Picks in a repeat of the weave.";
    WARP_CROSSINGS = "cloth.warp_crossings" Number EACH Neither "Times an end changes side in a repeat.";
    GREATEST_SETT = "cloth.greatest_sett" PerLength PER_CM Neither "Closest the ends could stand, by diameters and crossings.";
    BRIERLEY_SETT = "cloth.greatest_sett_brierley" PerLength PER_CM Neither "The same by another rule, as a second opinion.";
    BRIERLEY_K = "cloth.brierley_constant" Ratio ONE Neither "Constant of that rule for this fibre.";
    BRIERLEY_M = "cloth.brierley_exponent" Ratio ONE Neither "Exponent of that rule for this kind of weave.";
    TAYLOR_K = "cloth.taylor_constant" Ratio ONE Neither "Constant of the mill's take-up rule: 4 heavy, 3 medium.";
    FIRMNESS = "cloth.firmness" Ratio PERCENT Neither "Sett in the reed as a share of the closest.";
    SETT_IN_REED = "cloth.sett_in_reed" PerLength PER_CM Neither "Sett of the warp in the heddle.";
    CRIMP_SHARE = "cloth.crimp_share" Ratio ONE Neither "The warp's share of the bending.";
    WEFT_SLACK = "cloth.weft_slack" Ratio PERCENT Neither "Weft laid in over the straight line, by an angle or an arc.";
    EDGE_DRAW_IN = "cloth.edge_draw_in" Length MM More "Narrowing of the two edges together, whatever the width.";
    RELAX = "cloth.relax" Ratio PERCENT Neither "What the cloth shortens when the tension is let off.";
    SHRINK_WIDTH = "cloth.shrink_width" Ratio PERCENT More "Width lost in the wash.";
    SHRINK_LENGTH = "cloth.shrink_length" Ratio PERCENT More "Length lost in the wash.";
    LOFT = "cloth.loft" Ratio ONE Neither "Thickness over that of round threads lying close.";
    FINISHING_KEEPS = "cloth.finishing_keeps" Ratio PERCENT Less "Mass that wash and boil leave.";
    DIAMETER_SUM = "cloth.diameter_sum" Length MM Neither "Warp and weft diameter together.";
    WARP_ANGLE_OF_CRIMP = "cloth.crimp_angle_warp" Angle DEG Neither "Slope of an end where it crosses.";
    WEFT_ANGLE_OF_CRIMP = "cloth.crimp_angle_weft" Angle DEG Neither "Slope of a pick where it crosses.";
    ROOM_WARP = "cloth.room_warp" Ratio ONE Less "How far the warp is from jammed; below 0 it has no room to cross.";
    ROOM_WEFT = "cloth.room_weft" Ratio ONE Less "How far the weft is from jammed; below 0 it has no room to cross.";
    CRIMP_WARP = "cloth.crimp_warp" Ratio PERCENT Neither "Warp yarn longer than the cloth off the loom, by this share.";
    CRIMP_WEFT = "cloth.crimp_weft" Ratio PERCENT Neither "Weft yarn longer than the cloth is wide off the loom.";
    TAKE_UP = "cloth.take_up" Ratio PERCENT More "Warp length lost to bending.";
    TAYLOR_TAKE_UP = "cloth.take_up_taylor" Ratio PERCENT Neither "The same by a mill's rule, as a second opinion on fine cotton.";
    DRAW_IN = "cloth.draw_in" Ratio PERCENT More "Narrowing of the cloth against the heddle, edges apart.";
    SETT_OFF_LOOM = "cloth.sett_off_loom" PerLength PER_CM Neither "Sett of the warp off the loom.";
    PICKS_OFF_LOOM = "cloth.picks_off_loom" PerLength PER_CM Neither "Density of the picks off the loom.";
    PICKS_ON_LOOM = "cloth.picks_on_loom" PerLength PER_CM Neither "Density of the picks to beat to, under tension.";
    SETT_FINISHED = "cloth.sett_finished" PerLength PER_CM Neither "Sett of the warp after the wash.";
    PICKS_FINISHED = "cloth.picks_finished" PerLength PER_CM Neither "Density of the picks after the wash.";
    WARP_COLOURS = "cloth.warp_colour_ends" Number EACH Neither "Ends in one repeat of the colours across the warp.";
    WEFT_COLOURS = "cloth.weft_colour_picks" Number EACH Neither "Picks in one repeat of the colours along the weft.";
    STRIPES_ACROSS = "cloth.stripes_across" Length CM Neither "Repeat of the stripes across the finished cloth, from the warp.";
    STRIPES_ALONG = "cloth.stripes_along" Length CM Neither "Repeat of the stripes along the finished cloth, from the weft.";
    FIRMNESS_FINISHED = "cloth.firmness_finished" Ratio PERCENT Neither "Sett after the wash as a share of the closest.";
    MASS_OFF_LOOM = "cloth.mass_off_loom" AreaMass G_M2 Neither "Mass of a square metre off the loom.";
    CLOTH_MASS = "cloth.mass" AreaMass G_M2 Neither "Mass of a square metre, finished.";
    MASS_WISHED = "cloth.mass_wished" AreaMass G_M2 Neither "Mass that was wished.";
    OPEN_AREA = "cloth.open_area" Ratio PERCENT More "Share of the finished cloth that is holes.";
    COVER = "cloth.cover" Ratio PERCENT Less "Share of the finished cloth that is yarn.";
    COVER_FACTOR_WARP = "cloth.cover_factor_warp" Ratio ONE Less "Cover factor of the warp, Ne-inch: 28 is touching.";
    COVER_FACTOR_WEFT = "cloth.cover_factor_weft" Ratio ONE Less "Cover factor of the weft, Ne-inch: 28 is touching.";
    COVER_FACTOR = "cloth.cover_factor" Ratio ONE Less "Cover factor of the cloth, Ne-inch: 28 is touching.";
    THICKNESS = "cloth.thickness" Length MM Neither "Thickness of the finished cloth.";
    WASH_HEIGHT = "cloth.wash_height" Ratio ONE More "Bending height that the wash would need over the one there is: above 1.25 the yarn itself shrinks.";
    OFF_LOOM_LENGTH = "cloth.length_off_loom" Length M More "Cloth to have off the loom, unwashed.";
    ON_LOOM_LENGTH = "cloth.length_on_loom" Length M More "Cloth to weave, measured on the loom under tension.";

    HOW_MANY = "garment.how_many" Number EACH Neither "Articles to make.";
    GARMENT_AREA = "garment.area" Area M2 More "Cloth in the pieces of all articles, seams included.";
    HEAD = "garment.head" Length CM Neither "Girth of the head.";
    HEAD_EASE = "garment.head_ease" Length CM Neither "Room that the head needs in the neck opening.";
    NECK_OPENING = "garment.neck_opening" Length CM Less "Length round the neck opening at its finished edge.";
    HEAD_NEEDS = "garment.head_needs" Length CM Neither "Opening that the head needs.";
    SLIT_MADE = "garment.slit_made" Length CM Neither "Slit in the draft.";
    SLEEVE_MISMATCH = "garment.sleeve_mismatch" Length MM More "Armhole seam less sleeve seam.";
    LEAST_FIRMNESS = "garment.least_firmness" Ratio PERCENT Neither "Loosest sett at which this article's threads and seams hold.";
    LEAST_MASS = "garment.least_mass" AreaMass G_M2 Neither "Lightest cloth usual for this article.";
    GREATEST_MASS = "garment.greatest_mass" AreaMass G_M2 Neither "Heaviest cloth usual for this article.";
    SLIT = "garment.slit" Length CM Neither "Slit that lets the head through.";
    CHEST = "garment.chest" Length CM Neither "Girth of the body at the chest.";
    CHEST_EASE = "garment.chest_ease" Length CM Neither "Room of the garment over the chest.";
    GARMENT_CHEST = "garment.girth" Length CM Neither "Girth of the garment at the chest.";
    WIDEST_PIECE = "garment.widest_piece" Length CM Neither "Width of the widest piece, seams included.";
    SEAM_LENGTH = "garment.seam_length" Length M More "Seams and hems to sew.";
    THREAD_RATIO = "garment.thread_ratio" Ratio ONE Neither "Thread for a length of seam.";
    THREAD = "garment.thread" Length M More "Sewing thread.";
    GARMENT_MASS = "garment.mass" Mass G Neither "Mass of the finished articles.";

    LAY_WIDTH = "lay.width" Length CM Neither "Width of the finished cloth.";
    LAY_LENGTH = "lay.length" Length CM More "Length of finished cloth that the pieces take.";
    MATCH_EXTRA = "lay.match_extra" Length CM More "Cloth more than the pieces would take if their stripes need not meet.";
    LAY_USED = "lay.used" Ratio PERCENT Less "Share of that cloth that is pieces.";

    WIDTH_IN_REED = "warp.width_in_reed" Length CM More "Width of the warp in the heddle.";
    ENDS = "warp.ends" Number EACH More "Threads in the warp.";
    WARP_EXTRA = "warp.extra" Length CM Neither "Warp for a header, a sample to wash, and the cuts between.";
    WASTE_FRONT = "loom.waste_front" Length CM More "Warp that cannot be woven at the front.";
    WASTE_BACK = "loom.waste_back" Length CM More "Warp that cannot be woven at the back.";
    WARP_BETWEEN = "warp.between" Length CM Neither "Warp left unwoven between two articles.";
    WARP_UNWOVEN = "warp.unwoven" Length CM More "Warp left unwoven between all articles.";
    WARP_LENGTH = "warp.length" Length M More "Length to wind for each end.";
    WARP_YARN = "warp.yarn_length" Length M More "Yarn in the warp.";
    WARP_MASS = "warp.yarn_mass" Mass G More "Mass of the yarn in the warp.";
    TENSION_PER_TEX = "warp.tension_per_tex" Tenacity CN_TEX Neither "Tension for the count, assumed.";
    TENSION_LIMIT = "warp.tension_share" Ratio PERCENT Neither "Tension as a share of break, at most.";
    TENSION_STATED = "warp.tension_stated" Force CN Neither "Mean tension of an end that the plan states.";
    TENSION = "warp.tension_per_end" Force CN Neither "Mean tension of an end while weaving.";
    PEAK_LOAD = "warp.peak_load" Force CN More "Load of an eye end when the shed is open.";
    PEAK_SHARE = "warp.peak_share" Ratio PERCENT More "The same as a share of what breaks it.";
    LINK_RISK = "warp.link_risk" Ratio ONE More "Chance that one link breaks at that load.";
    EXPECTED_BREAKS = "warp.expected_breaks" Number EACH More "Ends that are likely to break in this warp.";

    WIDTH_OFF_LOOM = "cloth.width_off_loom" Length CM Neither "Width of the cloth off the loom, unwashed.";
    TURN = "weft.turn" Length MM Neither "Weft that each turn at the edge takes.";
    PICK_LENGTH = "weft.pick_length" Length CM More "Weft in one pick.";
    PICKS = "weft.picks" Number EACH More "Picks to weave.";
    WEFT_YARN = "weft.yarn_length" Length M More "Yarn in the weft.";
    WEFT_MASS = "weft.yarn_mass" Mass G More "Mass of the yarn in the weft.";

    SPARE = "demand.spare" Ratio PERCENT Neither "Yarn over what is wound, for breaks and knots.";
    REPAIR = "demand.repair_yarn" Mass G Neither "Skein kept to repair the cloth later.";
    YARN_MASS = "demand.yarn_mass" Mass G More "Yarn to spin.";
    YARN_LENGTH = "demand.yarn_length" Length M More "Length of yarn to spin.";
    SPINNING_KEEPS = "losses.spinning_keeps" Ratio PERCENT Less "Fibre that spinning keeps.";
    PREPARING_KEEPS = "losses.preparing_keeps" Ratio PERCENT Less "Fibre that carding, combing or hackling keeps.";
    CLEANING_KEEPS = "losses.cleaning_keeps" Ratio PERCENT Less "Fibre that ginning, scouring or scutching keeps.";
    SPUN_FIBRE = "demand.spun_fibre" Mass G More "Fibre prepared for the wheel.";
    CLEAN_FIBRE = "demand.clean_fibre" Mass G More "Lint, scoured wool or scutched flax to prepare.";
    RAW_FIBRE = "demand.raw_fibre" Mass G More "Seed cotton, grease wool or retted straw to begin with.";
    RAW_ON_HAND = "on_hand.raw" Mass G Less "Raw fibre that is there.";
    CLEAN_ON_HAND = "on_hand.clean" Mass G Less "Clean fibre that is there.";
    SPUN_ON_HAND = "on_hand.prepared" Mass G Less "Prepared fibre that is there.";
    YARN_ON_HAND = "on_hand.yarn" Mass G Less "Yarn that is there.";
    YARN_POSSIBLE = "demand.yarn_possible" Mass G Less "Yarn that the fibre on hand makes.";
    ON_HAND_SHARE = "demand.on_hand_share" Ratio PERCENT Less "Share of the yarn needed that the fibre on hand makes.";
    BOLLS = "crop.bolls_per_plant" Number EACH Less "Bolls that a plant ripens.";
    BOLL_MASS = "crop.boll_mass" Mass G Less "Seed cotton in a boll.";
    GERMINATION = "crop.germination" Ratio PERCENT Less "Seeds that become standing plants.";
    ROW_SPACING = "crop.row_spacing" Length CM Neither "Room between rows.";
    PLANT_SPACING = "crop.plant_spacing" Length CM Neither "Room between plants in a row.";
    STRAW_PER_AREA = "crop.straw_per_area" AreaMass G_M2 Less "Retted straw from a square metre.";
    FLEECE_MASS = "crop.fleece_mass" Mass KG Less "Grease wool on one sheep.";
    PLANTS = "demand.plants" Number EACH More "Cotton plants that stand.";
    SEEDS = "demand.seeds" Number EACH More "Seeds to sow for them.";
    PLOT = "demand.plot" Area M2 More "Ground for the crop.";
    FLEECES = "demand.fleeces" Number EACH More "Fleeces.";

    HEAT_UNITS = "season.heat_units" HeatSum DD_F Less "Heat from sowing to the end of the season, plain form.";
    HEAT_NEEDED = "season.heat_needed" HeatSum DD_F More "Heat from sowing to the first open boll.";
    FIRST_OPEN_BOLL = "season.first_open_boll" Duration DAY More "Days from sowing to the first open boll, at the middle of what it needs.";
    RIPENS = "season.ripens" Ratio PERCENT Less "Share of the heat needed that the season gives.";

    MOTOR_RATED = "spinner.motor_rated" Voltage VOLT Neither "Voltage on the motor's plate.";
    NO_LOAD = "spinner.no_load_speed" Rotation RPM Neither "Motor speed with nothing to turn, at that voltage.";
    NO_LOAD_CURRENT = "spinner.no_load_current" Current AMP Neither "Current then.";
    RESISTANCE = "spinner.resistance" Resistance OHM Neither "Resistance of the winding, cold.";
    WINDING_TEMPERATURE = "spinner.winding_temperature" Temperature DEG_C Neither "Temperature of the winding at work.";
    HOT_RESISTANCE = "spinner.hot_resistance" Resistance OHM Neither "Resistance of the winding at work.";
    SUPPLY_VOLTAGE = "spinner.supply_voltage" Voltage VOLT Neither "Voltage of the supply.";
    SUPPLY_LIMIT = "spinner.supply_limit" Current AMP Neither "Current the supply gives.";
    DRIVER_LIMIT = "spinner.driver_limit" Current AMP Neither "Most current the speed control may pass.";
    DRIVER_DROP = "spinner.driver_drop" Voltage VOLT Neither "Voltage the speed control keeps for itself.";
    MOTOR_PULLEY = "spinner.motor_pulley" Length MM Neither "Pitch diameter on the motor.";
    SPINDLE_PULLEY = "spinner.spindle_pulley" Length MM Neither "Pitch diameter on the spindle.";
    CENTRES = "spinner.centres" Length MM Neither "Distance of the two shafts.";
    BELT_THICKNESS = "spinner.belt" Length MM Neither "Thickness of the belt.";
    SLIP = "spinner.slip" Ratio PERCENT Neither "Speed that the belt loses.";
    BELT_EFFICIENCY = "spinner.belt_efficiency" Ratio PERCENT Neither "Power that the belt passes on.";
    BELT_FRICTION = "spinner.belt_friction" Ratio ONE Less "Friction of belt on pulley, groove included.";
    BELT_TENSION = "spinner.belt_tension" Force N Neither "Tension of the belt at rest.";
    BOBBIN_CORE = "spinner.bobbin_core" Length MM Neither "Diameter of the empty bobbin.";
    BOBBIN_FLANGE = "spinner.bobbin_flange" Length MM Neither "Diameter of its flanges.";
    BOBBIN_WIDTH = "spinner.bobbin_width" Length MM Neither "Width between them.";
    FILL_SHARE = "spinner.fill_share" Ratio PERCENT Neither "How far to the flange's rim it is filled.";
    PACKAGE_DENSITY = "spinner.package_density" Density G_CM3 Neither "Density of the yarn on the bobbin.";
    PACE = "spinner.pace" Speed M_MIN Neither "Finished yarn a minute, wind-on counted.";
    STROKE = "spinner.stroke" Length CM Neither "Length of one draw and wind-on.";
    HAND_PULL = "spinner.pull" Force CN Neither "Pull of the yarn at the hand.";
    HOOK_FRICTION = "spinner.hook_friction" Ratio ONE More "Friction of yarn on orifice and hooks.";
    HOOK_WRAP = "spinner.hook_wrap" Angle DEG Neither "Turn of the yarn round orifice and hooks.";
    BEARINGS = "spinner.bearing_torque" Torque MN_M More "Drag of the spindle's bearings.";
    WINDAGE_900 = "spinner.windage_900" Torque MN_M More "Air drag of flyer and bobbin at 900 rpm.";
    SAFE_SPEED = "spinner.safe_speed" Rotation RPM Neither "Fastest the flyer is trusted to turn.";
    START_FACTOR = "spinner.start_factor" Ratio ONE More "Torque to start over torque to keep going.";
    CURRENT_SHARE_LIMIT = "spinner.current_share_limit" Ratio PERCENT Neither "Share of the stall current a small motor stands for long.";
    WHORL_RATIO = "spinner.whorl_ratio" Ratio ONE Neither "Flyer whorl over bobbin whorl, one band on both.";
    MOTOR_CONSTANT = "spinner.motor_constant" MotorConstant V_S Neither "Volts a radian a second; newton metres an ampere.";
    RATIO = "spinner.ratio" Ratio ONE Neither "Spindle pulley over motor pulley.";
    FLYER_SPEED = "spinner.flyer_speed" Rotation RPM Neither "Flyer speed for this twist at this pace.";
    SPINDLE_SPEED = "spinner.spindle_speed" Rotation RPM Neither "Speed of what the belt drives.";
    MOTOR_SPEED = "spinner.motor_speed" Rotation RPM Neither "Motor speed for that.";
    WIND_ON_EMPTY = "spinner.wind_on_empty" Rotation RPM Neither "Turns by which bobbin and flyer differ, bobbin empty.";
    WIND_ON_FULL = "spinner.wind_on_full" Rotation RPM Neither "Turns by which bobbin and flyer differ, bobbin full.";
    BOBBIN_SPEED = "spinner.bobbin_speed" Rotation RPM Neither "Speed of the bobbin, empty.";
    LEAST_WHORL_RATIO = "spinner.least_whorl_ratio" Ratio ONE Neither "Whorl ratio that winding on needs.";
    FULL_DIAMETER = "spinner.full_diameter" Length MM Neither "Diameter of the full bobbin.";
    PULL_AT_BOBBIN = "spinner.pull_bobbin" Force CN Neither "Pull of the yarn at the bobbin.";
    BRAKE_EMPTY = "spinner.brake_torque_empty" Torque MN_M Neither "Brake on an empty bobbin, net of what drags it round.";
    BRAKE_FULL = "spinner.brake_torque_full" Torque MN_M Neither "Brake on a full bobbin, net of what drags it round.";
    WINDAGE = "spinner.windage" Torque MN_M Neither "Air drag at working speed.";
    SPINDLE_LOAD = "spinner.spindle_load" Torque MN_M More "Torque at the spindle, bobbin full.";
    MOTOR_TORQUE = "spinner.motor_torque" Torque MN_M More "Torque of the motor.";
    CURRENT = "spinner.current" Current AMP More "Current of the winding at work, bobbin full.";
    VOLTAGE_NEEDED = "spinner.voltage_needed" Voltage VOLT More "Mean voltage at work.";
    DUTY = "spinner.duty" Ratio PERCENT More "Share of the time the speed control is on.";
    DUTY_LIMIT = "spinner.duty_limit" Ratio PERCENT Neither "Share that keeps the motor at its rated voltage.";
    HEAT = "spinner.heat" Power WATT More "Heat in the winding.";
    STALL_SHARE = "spinner.stall_share" Ratio PERCENT More "Current as a share of the stall current.";
    STALL_CURRENT = "spinner.stall_current" Current AMP More "Current of the winding with the rotor held, at the most the speed control gives.";
    SUPPLY_STALL = "spinner.supply_current" Current AMP More "Mean current of the supply then.";
    RUNAWAY = "spinner.runaway_speed" Rotation RPM More "Flyer speed if yarn breaks and the switch fails on.";
    TOP_SPEED = "spinner.top_speed" Rotation RPM Less "Fastest under load, bobbin full.";
    START_TORQUE = "spinner.start_torque" Torque MN_M Less "Torque there is to start with.";
    START_NEEDS = "spinner.start_needs" Torque MN_M More "Torque that a full bobbin needs to start.";
    PLUG_CURRENT = "spinner.plug_current" Current AMP More "Current if it is reversed while it turns.";
    BELT_LENGTH = "spinner.belt_length" Length MM Neither "Length of the belt round both pulleys.";
    BELT_WRAP = "spinner.belt_wrap" Angle DEG Neither "Arc of the belt on the smaller pulley.";
    BELT_TORQUE = "spinner.belt_torque" Torque MN_M Less "Torque the motor pulley passes before the belt slips.";
    BOBBIN_MASS = "spinner.bobbin_mass" Mass G Neither "Yarn on a full bobbin.";
    BOBBIN_LENGTH = "spinner.bobbin_length" Length M Neither "Length of warp yarn on a full bobbin.";
    BOBBINS = "spinner.bobbins" Number EACH More "Bobbins to fill.";
    BEAT = "spinner.beat" Duration SECOND Neither "Time from one draw to the next at the set speed.";

    WEAVING_WIDTH = "loom.weaving_width" Length CM Neither "Widest warp the loom takes.";
    HEDDLES = "loom.heddles" Number EACH Neither "Rigid heddles that stand together.";
    HEDDLE_SETT = "loom.heddle_sett" PerLength PER_CM Neither "Sett of one heddle that is there.";
    BLADE = "loom.blade" Length MM Neither "Width of a heddle blade, seen from the front.";
    EYE = "loom.eye" Length MM Neither "Width of the eye in it.";
    SLOT_HEIGHT = "loom.slot_height" Length MM Neither "Height of the slots.";
    GAP_FACTOR = "loom.gap_factor" Ratio ONE Neither "Slot that a hand-spun thread needs, in its diameters.";
    EYE_FACTOR = "loom.eye_factor" Ratio ONE Neither "Eye that a hand-spun thread needs, in its diameters.";
    LEAST_WALL = "loom.least_wall" Length MM Neither "Material that must stay beside an eye, for this way of making.";
    HEDDLE_PITCH = "loom.heddle_pitch" Length MM Neither "A slot and an eye of one heddle.";
    GAP = "loom.gap" Length MM Neither "Width of a slot.";
    THREADS_PER_SLOT = "loom.threads_per_slot" Number EACH Neither "Threads that a slot must pass.";
    SLOT_ROOM = "loom.slot_room" Ratio ONE Less "Room in a slot, in yarn diameters a thread.";
    EYE_ROOM = "loom.eye_room" Ratio ONE Less "Room in an eye, in yarn diameters.";
    WALL = "loom.wall" Length MM Less "Material beside an eye.";
    HEDDLE_GREATEST = "loom.greatest_sett" PerLength PER_CM Neither "Closest sett that these blades allow with this yarn.";
    EYES = "loom.eyes" Number EACH Neither "Eyes in one heddle.";
    SLOTS = "loom.slots" Number EACH Neither "Slots in one heddle.";
    FELL_TO_HEDDLE = "loom.fell_to_heddle" Length CM Neither "From the last pick to the heddle, freshly advanced.";
    HEDDLE_TO_BACK = "loom.heddle_to_back" Length CM Neither "From the heddle to the back bar.";
    LIFT = "loom.lift" Length MM Neither "How far the heddle moves up, or down.";
    SHUTTLE_HEIGHT = "loom.shuttle_height" Length MM Neither "Height of the shuttle.";
    SHUTTLE_WIDTH = "loom.shuttle_width" Length MM Neither "Width of the shuttle.";
    SHUTTLE_CLEARANCE = "loom.shuttle_clearance" Length MM Neither "Room between shuttle and heddle.";
    ADVANCE = "loom.advance" Length MM Neither "Cloth woven before the warp is moved on.";
    BEAM_DIAMETER = "loom.beam_diameter" Length MM Neither "Diameter of a beam.";
    BEAM_BORE = "loom.beam_bore" Length MM Neither "Bore of a tube used as beam, 0 for a bar.";
    BEAM_SPAN = "loom.beam_span" Length CM Neither "Beam between its bearings.";
    BEAM_E = "loom.beam_stiffness" Stress GPA Neither "Stiffness of the beam's material.";
    BEAM_STRENGTH = "loom.beam_strength" Stress MPA Less "Bending strength of the beam's material.";
    STRENGTH_SPREAD = "loom.strength_spread" Ratio PERCENT Neither "Spread of that strength from piece to piece.";
    PEAK_FACTOR = "loom.peak_factor" Ratio ONE More "Highest warp tension over the mean: beating, an opened shed, a hard advance.";
    TEETH = "loom.teeth" Number EACH Neither "Teeth of a ratchet.";
    PAWLS = "loom.pawls" Number EACH Neither "Pawls on it, set between each other's teeth.";
    LAYER = "loom.layer" Length MM Neither "Thickness of a layer on the roll, with its paper or sticks.";
    WARP_TENSION = "loom.warp_tension" Force N Neither "Mean tension of the whole warp.";
    PEAK_TENSION = "loom.peak_load" Force N More "Highest tension of the whole warp.";
    MEAN_STRAIN = "loom.mean_strain" Ratio PERCENT Neither "Stretch of the warp at mean tension.";
    SECOND_MOMENT = "loom.beam_second_moment" SecondMoment MM4 Neither "Stiffness of the beam's section.";
    SECTION_MODULUS = "loom.beam_section_modulus" SectionModulus MM3 Neither "Strength of the beam's section.";
    BEAM_DEFLECTION = "loom.beam_deflection" Length MM More "Bow of the beam at mean tension.";
    BOW_ALLOWED = "loom.bow_allowed" Length MM Neither "Bow that the warp's own stretch still evens out.";
    BEAM_STRESS = "loom.beam_stress" Stress MPA More "Bending stress of the beam at peak tension.";
    STRESS_ALLOWED = "loom.stress_allowed" Stress MPA Neither "Stress that clear wood may be planned with.";
    SHED_STRAIN = "loom.shed_strain" Ratio PERCENT More "Stretch of an eye end in the open shed.";
    SHED_LOAD = "loom.shed_load" Force CN More "Load that this stretch adds.";
    SHUTTLE_EDGE = "loom.shuttle_edge" Length MM Neither "From the last pick to the shuttle's near edge.";
    SHED_OPENING = "loom.shed_opening" Length MM Less "Opening at the shuttle's near edge, freshly advanced.";
    SHED_OPENING_LATE = "loom.shed_opening_late" Length MM Less "The same just before the warp is moved on.";
    LIFT_FORCE = "loom.lift_force" Force N More "Force to hold the shed open.";
    SLOT_NEEDS = "loom.slot_needs" Length MM Neither "Slot height that this lift needs.";
    RATCHET_STEP = "loom.ratchet_step" Length MM Neither "Warp let on by one step of the ratchet, beam bare.";
    STEP_STRAIN = "loom.step_strain" Ratio PERCENT More "The same as a stretch of the warp.";
    ROLL_DIAMETER = "loom.roll_diameter" Length MM Neither "Diameter of the full roll.";
    TOOTH_CIRCLE = "loom.tooth_circle" Length MM Neither "Diameter of the circle on which the pawl bears.";
    PAWL_FORCE = "loom.pawl_force" Force N More "Force on one tooth, roll full, at peak tension.";
    BAR_LOAD = "loom.bar_load" Force N More "Load of the breast bar, warp turned by a right angle, at peak tension.";
    BAR_WRAP = "loom.bar_wrap" Angle DEG Neither "Angle by which the breast bar turns the warp.";
    BEAM_TWIST = "loom.beam_twist" Angle DEG More "Twist of the beam from its pawl to the middle, roll full.";

    PRINT_WIDTH = "print.width" Length CM Neither "Width of the picture as worn.";
    PRINT_SHAPE = "print.shape" Ratio ONE Neither "Height of the picture over its width.";
    PRINT_COVERAGE = "print.coverage" Ratio ONE Neither "Share of the picture that is ink.";
    PRINT_DETAIL = "print.artwork_detail" Ratio PERCENT Neither "Finest line of the artwork in its width.";
    PRINT_GAP_DETAIL = "print.artwork_gap_detail" Ratio PERCENT Neither "Finest gap of the artwork in its width.";
    PRINT_INKS = "print.inks" Number EACH Neither "Inks, each printed by itself.";
    MESH = "print.mesh" PerLength PER_CM Neither "Threads of the screen in a length of it.";
    MESH_THREAD = "print.mesh_thread" Length UM Neither "Thread of the screen.";
    MESH_OPENING = "print.mesh_opening" Length UM Neither "Opening of the screen.";
    MESH_OPEN = "print.mesh_open_area" Ratio PERCENT Neither "Open share of the screen.";
    MESH_THICKNESS_FACTOR = "print.mesh_thickness_factor" Ratio ONE Neither "Thickness of the screen's fabric in threads.";
    MESH_THICKNESS = "print.mesh_thickness" Length UM Neither "Thickness of the screen's fabric.";
    INK_VOLUME = "print.ink_volume" AreaVolume CM3_M2 Neither "Ink the screen lays in theory.";
    LINE_FACTOR = "print.line_factor" Ratio ONE More "Line that holds on cloth, in its widest thread spacing.";
    DOT_FACTOR = "print.dot_factor" Ratio ONE More "Dot that holds on cloth, in its widest thread spacing.";
    INK_GAIN = "print.gain" Length MM More "How far ink spreads past an edge.";
    LINE_OF_MESH = "print.line_of_mesh" Length MM Neither "Finest line of the screen.";
    LINE_OF_CLOTH = "print.line_of_cloth" Length MM Neither "Finest line of the cloth.";
    LINE_OF_TOOL = "print.line_of_tool" Length MM Neither "Finest line that a knife or a gouge cuts clean.";
    GAP_OF_TOOL = "print.gap_of_tool" Length MM Neither "Narrowest bridge or wall that stands.";
    INK_LAID = "print.ink_laid" AreaVolume CM3_M2 Neither "Ink that a dabber or a block lays.";
    SMALLEST_LINE = "print.smallest_line" Length MM More "Finest line that prints whole.";
    SMALLEST_GAP = "print.smallest_gap" Length MM More "Finest gap that stays open.";
    SMALLEST_DOT = "print.smallest_dot" Length MM More "Smallest dot that prints.";
    ARTWORK_LINE = "print.artwork_line" Length MM Neither "Finest line in the artwork at the size wanted.";
    ARTWORK_GAP = "print.artwork_gap" Length MM Neither "Finest gap in the artwork at the size wanted.";
    PRINT_HEIGHT = "print.height" Length CM Neither "Height of the picture as worn.";
    FILM_HEIGHT = "print.artwork_height" Length CM Neither "Height of the picture on the film.";
    FILM_WIDTH = "print.artwork_width" Length CM Neither "Width of the picture on the film.";
    LATER_SHRINK = "print.later_shrink" Ratio PERCENT Neither "What washed cloth still shrinks in later washes.";
    INK_DENSITY = "print.ink_density" Density G_CM3 Neither "Density of the ink.";
    CLOTH_TAKE = "print.cloth_take" Ratio ONE More "Ink that open handwoven cloth takes over theory.";
    PICTURE_AREA = "print.picture_area" Area M2 Neither "Area of the picture on the film.";
    INK = "print.ink" Mass G More "Ink for all prints.";

    CLEANING_PACE = "hours.cleaning_pace" MassRate G_H Less "Clean fibre an hour.";
    PREPARING_PACE = "hours.preparing_pace" MassRate G_H Less "Prepared fibre an hour.";
    STOPS = "hours.stops" Ratio PERCENT More "Share of the spinning and weaving time that goes in stops.";
    SPINNING_PACE = "hours.spinning_pace" Speed M_H Less "Singles an hour, stops in it, as logged.";
    PLYING_PACE = "hours.plying_pace" Speed M_H Less "Plied yarn an hour, stops in it.";
    SKEINING_PACE = "hours.skeining_pace" Speed M_H Less "Yarn an hour from bobbin to washed skein to ball.";
    WINDING_PACE = "hours.winding_pace" Speed M_H Less "Warp wound an hour.";
    THREADING_PACE = "hours.threading_pace" Rate PER_H Less "Threads drawn an hour.";
    PICKING_PACE = "hours.picking_pace" Rate PER_MIN Less "Picks a minute while weaving.";
    SEWING_PACE = "hours.sewing_pace" Speed M_H Less "Seam an hour, cutting, pinning and pressing in it.";
    FINISHING_ONCE = "hours.finishing_once" Duration HOUR More "Washing, drying and pressing the cloth.";
    SAMPLING_ONCE = "hours.sampling_once" Duration HOUR More "Spinning, weaving and washing the first sample.";
    PRINTING_ONCE = "hours.printing_once" Duration HOUR More "Film and screen of an ink, once.";
    PRINTING_PACE = "hours.printing_pace" Rate PER_H Less "Pulls of one ink an hour.";
    GINNING = "hours.ginning" Duration HOUR More "Taking the seeds out.";
    SCOURING = "hours.scouring" Duration HOUR More "Washing the fleece.";
    SCUTCHING = "hours.scutching" Duration HOUR More "Breaking and scutching the straw.";
    CARDING = "hours.carding" Duration HOUR More "Carding.";
    COMBING = "hours.combing" Duration HOUR More "Combing.";
    HACKLING = "hours.hackling" Duration HOUR More "Hackling.";
    SAMPLING = "hours.sampling" Duration HOUR More "The first sample.";
    SPINNING = "hours.spinning" Duration HOUR More "Spinning, with stops.";
    PLYING = "hours.plying" Duration HOUR More "Plying.";
    SKEINING = "hours.skeining" Duration HOUR More "Skeining, washing and winding the yarn.";
    WINDING = "hours.winding" Duration HOUR More "Winding the warp.";
    THREADING = "hours.threading" Duration HOUR More "Threading every heddle.";
    WARPING = "hours.warping" Duration HOUR More "Winding and threading together.";
    WEAVING = "hours.weaving" Duration HOUR More "Weaving, with stops.";
    FINISHING = "hours.finishing" Duration HOUR More "Washing and pressing the cloth.";
    SEWING = "hours.sewing" Duration HOUR More "Cutting and sewing.";
    PRINTING = "hours.printing" Duration HOUR More "Printing.";
    TOTAL_HOURS = "hours.total" Duration HOUR More "All of it, machines not counted.";
    HOURS_A_WEEK = "hours.per_week" Duration HOUR Less "Hours of work a week, all helpers together.";
    WEEKS = "hours.weeks" Ratio ONE More "Weeks that all of it takes at that.";
}

/// The slot of an id.
pub fn slot(name: &str) -> Option<u16> {
    ALL.iter().position(|key| key.name == name).map(|at| at as u16)
}
