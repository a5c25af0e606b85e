"""One sentence for every caution: what is the matter, why it matters, what to do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording.fill import fill
from app.wording.language import gettext as _
from app.wording.language import marked

if TYPE_CHECKING:
    from core.plan.records import Caution

TANK_SENTENCES = {
    "settles": marked(
        "This tank does not stay clear: {content}. What settles ({solids}) never reaches the roots and blocks pumps "
        "and drippers. Use more tanks, or make this one weaker."
    ),
    "doubtful-tank": marked(
        "This tank is so close to settling ({solids}) that the forecast cannot be sure: {content}. "
        "Try a glass jar of it overnight first, or make it a little weaker."
    ),
    "tank-beyond-model": marked(
        "At {ratio} this tank is stronger than any its forecast was measured for: {content}. Whether it stays "
        "clear is not known. Make it no stronger than {clear_ratio}, or try a glass jar of it overnight first."
    ),
    "cold-store": marked(
        "This tank is clear when mixed but not when it cools to {coldest_c}: {content}. What settles then: {solids}. "
        "Keep it warmer, or make it weaker."
    ),
    "coldest-assumed": marked(
        "How cold the tanks get was not stated; {coldest_c} is assumed. Enter the coldest night of the store: "
        "salts that stay dissolved by day can settle out by night."
    ),
    "strength-too-high": marked(
        "This tank cannot be made as strong as {ratio}: {content}. The most that stays dissolved is {ratio_limit}. "
        "Choose a weaker ratio, which means more millilitres per litre of feed."
    ),
    "chelate-acid": marked(
        "Strong acid in one tank with {salts} breaks the chelate: the metal drops out and is lost. "
        "Put the acid elsewhere."
    ),
    "calcium-phosphate": marked(
        "Calcium meets phosphate in one tank ({content}): {salts}. As concentrates they set to calcium phosphate "
        "unless the tank is weak and sour. Give them a tank each: allow one more tank, or take off the pin."
    ),
    "calcium-sulfate": marked(
        "Calcium meets sulfate in one tank ({content}): {salts}. As concentrates they set to calcium sulfate, like "
        "plaster. Give them a tank each: allow one more tank, take off the pin, or do without calcium sulfate."
    ),
    "magnesium-phosphate": marked(
        "Magnesium stands beside a phosphate that holds the tank above pH 5 ({content}): {salts}. Magnesium phosphate "
        "can settle out. Take monopotassium or monoammonium phosphate instead, or give magnesium another tank."
    ),
    "silicate-alone": marked(
        "Silicate is not alone ({content}): {salts}. Beside anything else it sets to jelly. "
        "Give it a tank of its own: allow one more tank, or take off the pin."
    ),
    "base-hardness": marked(
        "A base or silicate meets calcium or magnesium, of a salt or of hard fill water ({content}): {salts}. They "
        "drop out as lime. Give it a tank of its own, filled up with rain or deionised water."
    ),
    "base-metals": marked(
        "A base meets trace metals that no chelate holds ({content}): {salts}. They drop out as hydroxides and are "
        "lost. Give the base a tank of its own, or dose it into the reservoir."
    ),
    "base-chelate": marked(
        "A base meets a chelate that does not stand it ({content}): {salts}. The metal drops out as hydroxide and is "
        "lost. Give the base a tank of its own, or take a chelate that holds at high pH (EDDHA, HBED)."
    ),
    "base-phosphate": marked(
        "A base raises the pH of a phosphate tank ({content}): {salts}. Magnesium, calcium and trace metals then "
        "settle as phosphates. Put the base elsewhere, and never raise the pH of this tank."
    ),
    "base-acid": marked(
        "Acid and base meet in one tank ({content}): {salts}. They foam or heat up and undo each other. "
        "Use only one of them, or never let them meet undiluted."
    ),
    "base-ammonium": marked(
        "A base meets ammonium ({content}): {salts}. Ammonia gas comes off: it stings eyes and lungs, and the nitrogen "
        "is lost. Give the base a tank of its own."
    ),
    "tank-temperature": marked(
        "A tank temperature of {temperature_c} was entered, but solubilities are known from {low_c} to {high_c} only: "
        "the tanks are judged at the nearer end. Below freezing ice takes the water and salts settle: keep them from "
        "frost."
    ),
    "coldest-warmer": marked(
        "The coldest night was entered as {coldest_c}, warmer than the tanks now ({temperature_c}). The colder of the "
        "two is used; correct one of them."
    ),
    "solubility-unknown": marked(
        "How much of these dissolves is not known, so a clear tank is not promised for them: {salts}. Look at the "
        "supplier's sheet, or let a glass jar of the tank stand overnight."
    ),
    "acid-pin": marked(
        "Pinned to a tank to no effect: {entry_ids}. In this recipe the acid does not go into a tank. Have it put into "
        "one, or take the pin off."
    ),
    "pin-beyond": marked(
        "Pinned to a tank that is not there: {entry_ids}. There are {count}, and it was placed as if without a pin. "
        "Use more tanks, or change the pin."
    ),
    "ready-mixed": marked(
        "Already mixed: {entry_ids}. Do not weigh them into a new tank; dose them as they stand, {doses_ml_per_l} of "
        "finished feed in this order, and make a tank of the rest."
    ),
    "pin-unknown": marked(
        "Pinned to a tank, but not on the shelf: {entry_ids}. The pin does nothing until the product is on the shelf."
    ),
    "silicate-first": marked(
        "Silicate stands alone and goes into the water first, stirred in, before acid and every other tank: "
        "beside them as a concentrate it sets to a gel."
    ),
}

FEED_SENTENCES = {
    "toxic": marked(
        "The feed would hold {feed_mg_per_l} of {nutrient}; above {limit_mg_per_l} it can harm the crop. "
        "Do not use it like this: find out what brings so much."
    ),
    "chloride-high": marked(
        "Chloride reaches {feed_mg_per_l}, above the {limit_mg_per_l} that sensitive crops stand well. "
        "Look for a source without chloride, or for purer water."
    ),
    "sodium-high": marked(
        "Sodium reaches {feed_mg_per_l}, above {limit_mg_per_l}. Crops take up little of it, so it gathers in feed "
        "that is used again: watch it, drain sooner, or blend in purer water."
    ),
    "ammonium-share": marked(
        "Ammonium is {share_percent} of the nitrogen, more than the {limit_percent} allowed. Much ammonium hinders "
        "calcium and can harm roots, in warm feed above all. Use more nitrate, or raise the limit."
    ),
    "ammonium-holds": marked(
        "Short because more would come with ammonium only: {nutrients}. Ammonium is held to {limit_percent} of the "
        "nitrogen. Put a source without ammonium on the shelf, or allow more ammonium in the aim."
    ),
    "ammonium-forced": marked(
        "An amount you gave brings much ammonium: {entry_ids}. Its usual share of the nitrogen gives way as far as the "
        "main nutrients need. Lower that amount, or write a limit of your own: that one is kept."
    ),
    "urea-left-out": marked(
        "Left out because it holds urea, which this aim does not allow: {entry_ids}. Allow urea in the aim to use it."
    ),
    "urea-used": marked(
        "{feed_mg_per_l} of the nitrogen is urea. Roots need it turned into ammonium first, and an EC meter does not "
        "see it. Leave urea out if the feed is used again."
    ),
    "phosphate-clouds": marked(
        "At pH {ph} calcium and phosphate cloud this feed: both are lost to the plants and block drippers. "
        "Bring the alkalinity down with acid before the other tanks go in."
    ),
    "chelate-ph": marked(
        "Once aired, at pH {ph}, about {share_percent} of the iron stays with {salts}; the rest settles as rust and is "
        "lost. Leave less alkalinity, or use a chelate that holds at a higher pH (EDTA, then DTPA, then EDDHA)."
    ),
    "bare-iron": marked(
        "Once aired, at pH {ph}, about {share_percent} of the iron of {salts} turns to rust and is lost: no chelate "
        "holds it. Use chelated iron, or mix it fresh into a sour feed and use it up within days."
    ),
    "ligand-unknown": marked(
        "No label says what holds the iron of {entry_ids}, and at pH {ph}, once aired, that decides whether it stays: "
        "EDTA lets go from about 6.5, DTPA from 7 to 7.5, EDDHA holds to 9. Ask the maker."
    ),
    "ph-extreme": marked(
        "The feed is forecast at pH {ph}: that burns roots or throws down what is dissolved. Do not use it like this; "
        "look for too much acid or base, or a mistyped amount."
    ),
    "ph-aim-missed": marked("The feed is forecast at pH {ph}, not the {target_ph} aimed for: {why}."),
    "crop-ph": marked(
        "The feed is forecast at pH {ph}; the source of this crop's figures ({crop}) keeps it at {low_ph} to {high_ph}."
        " Leave more or less alkalinity, or trim the pH in the reservoir."
    ),
    "above-published": marked(
        "The feed would hold {feed_mg_per_l} of {nutrient}, more than any published feed in the catalog "
        "({limit_mg_per_l}). Look for a mistyped target or label; no limit for harm was found."
    ),
    "ph-out-of-range": marked(
        "The feed is forecast at pH {ph}, outside {low_ph} to {high_ph}, where roots take up the trace elements. "
        "Change the acid or the alkalinity to be left."
    ),
    "ec-aim-missed": marked(
        "The feed is forecast at {feed_ms_per_cm}, not the {target_ms_per_cm} aimed for. Check the targets: "
        "the conductivity follows from what is dissolved."
    ),
    "out-of-range": marked(
        "This feed is far stronger than crops stand, so its EC and pH cannot be forecast. Look for a mistyped number "
        "before you mix anything."
    ),
}

AIM_SENTENCES = {
    "limit-missed": marked(
        "{nutrient} stands at {feed_mg_per_l}, on the wrong side of its limit of {limit_mg_per_l}. "
        "Change the limit, the amounts that were fixed, or the shelf."
    ),
    "bound-missed": marked(
        "{entry_id} stands at {amount_mg_per_l}, outside its own bound of {bound_mg_per_l}: another limit or rule "
        "would not let it be kept. Change one of them."
    ),
    "limit-impossible": marked(
        "No amounts of this shelf in this water keep {nutrient} to its limit of {limit_mg_per_l}; the nearest is "
        "{feed_mg_per_l}. Change the limit, the water or the shelf."
    ),
    "target-short": marked("{nutrient} reaches {feed_mg_per_l} of {target_mg_per_l}, {percent} short. {because}"),
    "target-over": marked(
        "{nutrient} reaches {feed_mg_per_l} where {target_mg_per_l} is wanted, {percent} over: it comes along with "
        "something the feed needs. Look for a source of that without it, or widen its range."
    ),
    "water-over-target": marked(
        "The water alone brings {water_mg_per_l} of {nutrient}, more than the {target_mg_per_l} wanted. No salt can "
        "take it out: blend in purer water, or accept it."
    ),
    "aim-charge-gap": marked(
        "The targets do not balance: positive and negative ions are {gap_percent} apart. No blend of salts can meet "
        "them all exactly, so the nearest is shown."
    ),
    "aim-nitrogen-contradiction": marked(
        "The aim asks for {target_mg_per_l} of nitrogen in all, but its forms add up to {sum_mg_per_l}. "
        "Correct one of them: as it stands both cannot be met."
    ),
    "exact-only": marked(
        "All amounts are given and nothing is aimed at, so the plan says what these amounts make; nothing was chosen."
    ),
    "nothing-to-do": marked(
        "There is nothing to plan yet: name a target, or give an amount for something on the shelf."
    ),
}

WATER_SENTENCES = {
    "water-assumed-pure": marked(
        "No analysis was entered for {which_water}, so it is taken as pure. Tap and well water bring calcium, "
        "magnesium and alkalinity that change the amounts: enter them before you mix. Where it is pure, its EC says so."
    ),
    "water-ec-only": marked(
        "Something is dissolved in {which_water} (EC {stated_ms_per_cm}), but no analysis says what: amounts, EC and "
        "pH are reckoned as for pure water. Enter the report before you mix, alkalinity and calcium first."
    ),
    "water-iron-not-counted": marked(
        "What {which_water} brings of {nutrients} is not counted: in air it oxidises and drops out, as rust or black "
        "flakes, before the roots get it. If yours stays dissolved, say so where the water is entered."
    ),
    "water-charge-gap": marked(
        "The analysis of {which_water} does not balance: {cations_meq_per_l} of positive ions against "
        "{anions_meq_per_l} of negative ones, {gap_percent} apart. Something was left out or mistyped; check the units "
        "it is printed in."
    ),
    "alkalinity-unknown": marked(
        "The analysis of {which_water} names no alkalinity (bicarbonate), so no acid can be reckoned and the pH is a "
        "guess. Ask the laboratory for it, or test it with a kit."
    ),
    "water-ph-contradiction": marked(
        "The analysis of {which_water} cannot be right: pH {ph} does not go with {alkalinity_meq_per_l} of alkalinity. "
        "The alkalinity was used; check both, since it decides how much acid is needed."
    ),
    "water-ec-contradiction": marked(
        "The EC entered for {which_water} is {stated_ms_per_cm}, but its analysis makes {analysis_ms_per_cm}. One of "
        "them is out of date or mistyped, or something was not analysed: measure the EC again, at 25 °C."
    ),
    "acid-needed": marked(
        "The water's alkalinity of {alkalinity_meq_per_l} takes acid to bring down to the {target_meq_per_l} wanted."
    ),
    "no-acid": marked(
        "The water holds {alkalinity_meq_per_l} of alkalinity and the shelf holds no acid, so the pH will drift up. "
        "Put an acid on the shelf, or blend in rain water."
    ),
    "alkalinity-left": marked(
        "{alkalinity_meq_per_l} of alkalinity is left where {target_meq_per_l} is wanted. Put an acid on the shelf; "
        "where there is one, free the amount or the limit that holds it back, and name targets to dose it for."
    ),
    "alkalinity-short": marked(
        "{alkalinity_meq_per_l} of alkalinity is left where {target_meq_per_l} is wanted: the acid takes more than it "
        "should, and the pH will not hold. Give less acid, or free its amount so that it can be worked out."
    ),
    "base-not-asked": marked(
        "The feed ends {short_meq_per_l} below the alkalinity wanted. A base such as potassium bicarbonate would mend "
        "that, and is only used when the aim asks for it."
    ),
    "soft-water": marked(
        "This water has almost no alkalinity to hold the pH: a little acid moves it far. Bring the EC up first, then "
        "trim the pH in small steps."
    ),
    "acid-late": marked(
        "This water is hard, and {salts} goes in late: until it is in, calcium and phosphate can cloud the feed. "
        "Stir it into the water before any other tank instead."
    ),
    "acid-first": marked(
        "Stir {salts} into the water before any other tank: with alkalinity this high, calcium and phosphate "
        "cloud the feed otherwise."
    ),
}

BENCH_SENTENCES = {
    "scale-coarse": marked(
        "{weight_g} of {salt} is too little for a scale that shows steps of {readability_g}: it can be {percent} out. "
        "Use a finer scale, or make a larger batch."
    ),
    "scale-trace": marked(
        "Too little to weigh well each time: {salts}. Weigh a larger amount once, dissolve it in a bottle of known "
        "volume and measure out millilitres."
    ),
    "scale-capacity": marked(
        "{weight_g} of {salt} is more than the scale carries ({capacity_g}). Weigh it in several goes "
        "and tick off each."
    ),
    "scale-assumed": marked(
        "No scale was entered, so weights are not fitted to one. Enter what your scale carries and the steps it shows: "
        "trace elements often need a finer one."
    ),
    "price-missing": marked(
        "The cost leaves out what has no price: {entry_ids}. Enter what a bag costs to see the whole."
    ),
}

GOAL_SENTENCES = {
    "cheapest-out-of-range": marked(
        "No blend of this shelf keeps every target in its range, so there is no cheapest one: the closest is shown. "
        "Widen a range or a limit, or ask why to see what is missing."
    ),
    "fewest-out-of-range": marked(
        "No blend of this shelf keeps every target in its range, however many salts it takes: the closest is shown. "
        "Widen a range or a limit, or ask why to see what is missing."
    ),
    "cheapest-no-prices": marked(
        "Nothing on the shelf has a price, so the cheapest blend cannot be told and the closest is shown. "
        "Enter what the bags cost."
    ),
    "unpriced-aside": marked(
        "Left aside because they have no price: {entry_ids}. Enter what a bag costs to have them compared too."
    ),
    "fewest-unproven": marked(
        "{count} salts is the fewest found before the search was ended; fewer than {at_least} is proven impossible, "
        "in between was not settled."
    ),
    "fewest-cost-unproven": marked(
        "{count} salts is proven to be the fewest, but the search was ended before their cost was: another set of as "
        "many could be up to {percent} cheaper."
    ),
}

HANDLING_SENTENCES = {
    "acid-handling": marked(
        "Acid burns skin and eyes: {salts}. Goggles, acid gloves and an apron; always acid into plenty of water, never "
        "water into acid; never near bleach. Follow the safety data sheet and local rules."
    ),
    "keep-apart": marked(
        "Never let these meet undiluted: {salts} with {other_salts} ({result}). Weigh and dissolve them apart, and "
        "rinse scoop and bucket in between. Their safety data sheets rule."
    ),
    "oxidiser-handling": marked(
        "These feed a fire: {salts}. Keep them dry and away from fuel, oil, sawdust, straw and sacks, and sweep up "
        "what is spilled. Follow the safety data sheets and local rules for storing them."
    ),
}

SOURCE_SENTENCES = {
    "acid-strength-assumed": marked(
        "The strength of {salt} was not stated; {strength_percent} by mass is assumed. Read it off the container: "
        "acids of one name are sold at very different strengths."
    ),
    "label-of-other-salt": marked(
        "The label of {entry_id} says {label_percent} {nutrient}, its formula {formula_percent}: it would fit {salt}. "
        "Read the bag again; the label was used. Some bags print the oxide, not the element."
    ),
    "label-unlike-salt": marked(
        "The label of {entry_id} says {label_percent} {nutrient}, its formula {formula_percent}. Read the bag again, "
        "or choose another product; the label was used. Some bags print the oxide, not the element."
    ),
    "label-strength": marked(
        "{entry_id} is entered as {strength_percent} strong, but its label makes {label_percent}. The label was used; "
        "take out the one that is wrong."
    ),
    "label-only": marked(
        "Known by the label alone: {entry_ids}. What a label leaves unsaid widens the band of the EC forecast."
    ),
    "memory-value": marked(
        "What these hold is from memory, no printed source was at hand: {salts}. Type in the label of your own bag."
    ),
    "memory-crop": marked(
        "The targets for {crop} are from memory, no printed source was at hand. Check them before you rely on them."
    ),
}

SENTENCES = {
    **TANK_SENTENCES,
    **FEED_SENTENCES,
    **AIM_SENTENCES,
    **WATER_SENTENCES,
    **BENCH_SENTENCES,
    **GOAL_SENTENCES,
    **HANDLING_SENTENCES,
    **SOURCE_SENTENCES,
}
"""Caution code -> its sentence, with blanks named as the caution's data is."""


def caution_text(caution: Caution) -> str:
    """Return the sentence of a caution; a code without one is shown as it is."""
    template = SENTENCES.get(caution.code)
    return caution.code if template is None else fill(_(template), caution.data)
