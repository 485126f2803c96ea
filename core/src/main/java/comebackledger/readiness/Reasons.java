package comebackledger.readiness;

import comebackledger.policy.Policy;
import comebackledger.policy.ReadinessPolicy;
import comebackledger.trail.Facts;
import comebackledger.trail.Flag;
import comebackledger.trail.LastVisit;
import comebackledger.trail.Trail;
import comebackledger.trail.UnitView;
import comebackledger.trail.Words;
import comebackledger.unit.Build;
import comebackledger.unit.Network;
import comebackledger.visit.Place;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Supplier;

/** Every reason of the rules that holds for a unit at an instant, in the order of the rules. */
final class Reasons {
    private static final String POLICY = "fleet policy";
    private static final String LAMPS = "SAE J1939-73, meaning of the lamps (from memory)";

    private final Supplier<Build> build;
    private final UnitView view;
    private final Policy policy;
    private final Facts facts;
    private final List<Reason> reasons = new ArrayList<>();
    /** Systems, or places, whose open fault a heavier reason has named already. */
    private final Set<String> named = new HashSet<>();

    private Reasons(Supplier<Build> build, UnitView view) {
        this.build = build;
        this.view = view;
        this.policy = view.policy();
        this.facts = Facts.of(view.state());
    }

    /** Whatever the trip. */
    static List<Reason> of(Supplier<Build> build, UnitView view) {
        Reasons collected = new Reasons(build, view);
        collected.declared();
        collected.lamps();
        collected.shop();
        collected.silentSafetyModules();
        collected.safetyNetworks();
        collected.airLoss();
        collected.age();
        collected.openFaults();
        collected.flags();
        return collected.reasons;
    }

    /** Of a drifting flag whose crossing falls inside the trip. */
    static Reason ofDrift(Flag flag) {
        return of(Reason.Kind.DRIFTING, flag, "drift");
    }

    static Optional<Reason> ofRisk(Risk risk, ReadinessPolicy policy) {
        String detail = "The chance of a new fault on this trip is " + Words.chance(risk.probability()) + ".";
        if (risk.probability() >= policy.riskHold()) {
            return Optional.of(Reason.of(Reason.Kind.RISK_ABOVE_HOLD, Optional.empty(), detail, List.of(), POLICY + " readiness.riskHold"));
        }
        return risk.probability() >= policy.riskCaution()
                ? Optional.of(Reason.of(Reason.Kind.RISK_ABOVE_CAUTION, Optional.empty(), detail, List.of(), POLICY + " readiness.riskCaution"))
                : Optional.empty();
    }

    private void add(Reason.Kind kind, Optional<String> place, String detail, List<String> grounds, String source) {
        reasons.add(Reason.of(kind, place, detail, grounds, source));
    }

    private void declared() {
        facts.outOfServiceBy().ifPresent(visit -> add(Reason.Kind.OUT_OF_SERVICE, Optional.empty(),
                "Declared out of service in " + visit + ", and no later visit says that the required repairs are completed.", List.of(visit),
                "49 CFR 396.9(c)(2)"));
        facts.defectBy().ifPresent(visit -> add(Reason.Kind.REPORTED_DEFECT_UNCERTIFIED, Optional.empty(),
                "The driver's report of " + visit + " lists a defect that nobody has certified as repaired or as needing no repair.", List.of(visit),
                "49 CFR 396.11, 396.13"));
    }

    private void lamps() {
        lamp("redStop", Reason.Kind.RED_STOP_LAMP, "The red stop lamp");
        lamp("amberWarning", Reason.Kind.AMBER_LAMP, "The amber warning lamp");
        lamp("malfunction", Reason.Kind.MALFUNCTION_LAMP, "The malfunction lamp");
        lamp("protect", Reason.Kind.PROTECT_LAMP, "The protect lamp");
    }

    private void lamp(String name, Reason.Kind kind, String words) {
        facts.lampOn(name)
                .ifPresent(visit -> add(kind, Optional.empty(), words + " was on when last reported, in " + visit + ".", List.of(visit), LAMPS));
    }

    private void shop() {
        Optional<LastVisit> last = view.state().lastVisit();
        last.filter(visit -> visit.releasedAt().filter(released -> !released.isAfter(view.at())).isEmpty())
                .ifPresent(visit -> add(Reason.Kind.IN_SHOP, Optional.empty(), "Its last visit, " + visit.visit() + ", is not released.",
                        List.of(visit.visit()), "ledger rule"));
    }

    private void silentSafetyModules() {
        for (Facts.Silence silence : facts.silences()) {
            boolean safety = build.get().network(silence.network()).flatMap(network -> network.node(silence.module())).filter(node -> node.safety())
                    .isPresent();
            if (!safety) {
                continue;
            }
            String place = Place.of(Place.network(silence.network()), silence.module()).toString();
            if (!silence.repairedSince()) {
                named.add(place);
                add(Reason.Kind.SAFETY_MODULE_SILENT, Optional.of(place),
                        silence.module() + " is a safety module; it stayed silent when last called, in " + silence.visit() + ".",
                        List.of(silence.visit()),
                        "build: safety");
            } else if (silence.claimedSince()) {
                add(Reason.Kind.NOT_RECHECKED, Optional.of(place),
                        silence.module() + " was silent in " + silence.visit() + "; a repair is claimed and it has not been called since.",
                        List.of(silence.visit()), "build: safety");
            }
        }
    }

    private void safetyNetworks() {
        List<Trail> confirmed = view.trails().stream().filter(trail -> trail.state() == Trail.State.OPEN).toList();
        if (confirmed.isEmpty()) {
            return;
        }
        for (Network network : build.get().networks().orElse(List.of())) {
            String system = Place.network(network.name());
            List<Trail> open = confirmed.stream().filter(trail -> trail.place().system().equals(system)).toList();
            double odds = facts.faultOdds(network.name(), policy.readiness().holdFaults());
            if (network.safety() && !open.isEmpty() && odds >= policy.bus().holdFaultsAt()) {
                open.forEach(trail -> named.add(trail.place().toString()));
                String visit = facts.findingVisit(network.name()).orElse("");
                add(Reason.Kind.SAFETY_NETWORK_FAULT, Optional.of(open.getFirst().place().toString()), "Odds of " + Words.chance(odds)
                        + " for a fault that can silence this safety network ("
                        + String.join(", ", facts.faultsOf(network.name(), policy.readiness().holdFaults()))
                        + ").",
                        List.of(visit),
                        POLICY + " readiness.holdFaults");
            }
        }
    }

    private void airLoss() {
        facts.loss().filter(loss -> loss.shareOfEngineAir() > policy.chargeAir().holdLossShare()).ifPresent(loss -> {
            String share = Words.percent(loss.shareOfEngineAir());
            if (!loss.repairedSince()) {
                view.trails().stream().filter(trail -> trail.place().system().equals(Place.CHARGE_AIR))
                        .forEach(trail -> named.add(trail.place().toString()));
                add(Reason.Kind.AIR_LOSS_ABOVE_LIMIT, Optional.of(Place.CHARGE_AIR),
                        "The charge air lost " + share + " of the engine's air at rated boost, in " + loss.visit() + ".", List.of(loss.visit()),
                        POLICY + " chargeAir.holdLossShare");
            } else if (loss.claimedSince()) {
                add(Reason.Kind.NOT_RECHECKED, Optional.of(Place.CHARGE_AIR),
                        "The charge air lost " + share + " in " + loss.visit() + "; a repair is claimed and it has not been tested since.",
                        List.of(loss.visit()), POLICY + " chargeAir.holdLossShare");
            }
        });
    }

    private void age() {
        Optional<LastVisit> last = view.state().lastVisit();
        if (last.isEmpty()) {
            add(Reason.Kind.NEVER_SEEN, Optional.empty(), "The unit is registered and no visit is recorded: nothing is known of it.", List.of(),
                    "ledger rule");
        } else if (Readiness.tooOld(last.get(), policy, view.at())) {
            add(Reason.Kind.EVIDENCE_TOO_OLD, Optional.empty(), "The last visit, " + last.get().visit() + ", is more than "
                    + Math.round(policy.evidenceMaxAgeDays()) + " days old.", List.of(last.get().visit()), POLICY + " evidenceMaxAgeDays");
        }
    }

    private void openFaults() {
        for (Trail trail : view.trails()) {
            boolean open = trail.state() == Trail.State.OPEN || trail.state() == Trail.State.SUSPECTED;
            if (open && !named.contains(trail.place().toString())) {
                Instant since = trail.openEpisode().orElseThrow().openedAt();
                String visit = trail.openEpisode().orElseThrow().openedBy();
                add(Reason.Kind.OPEN_FAULT, Optional.of(trail.place().toString()),
                        (trail.state() == Trail.State.OPEN ? "A confirmed fault" : "A suspected fault") + " is open since " + since + " (" + visit
                                + ").",
                        List.of(visit), "ledger rule");
            }
        }
    }

    private void flags() {
        for (Flag flag : view.flags()) {
            switch (flag.kind()) {
                case COMEBACK -> flag(Reason.Kind.COMEBACK, flag, "repeatWindow");
                case MOVING -> flag(Reason.Kind.MOVING, flag, "repeatWindow");
                case UNPROVEN_FIX -> flag(Reason.Kind.UNPROVEN_FIX, flag, "repeatWindow");
                case DRIFTING, FREQUENT, ACCELERATING, NO_FAULT_FOUND -> {
                    // Drift weighs by the trip asked for and is added for it; the other flags are the planner's.
                }
            }
        }
    }

    private void flag(Reason.Kind kind, Flag flag, String policyField) {
        reasons.add(of(kind, flag, policyField));
    }

    private static Reason of(Reason.Kind kind, Flag flag, String policyField) {
        return Reason.of(kind, Optional.of(flag.place()), flag.detail(), flag.grounds(), POLICY + " " + policyField);
    }
}
