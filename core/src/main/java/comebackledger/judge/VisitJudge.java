package comebackledger.judge;

import comebackledger.measure.MeterReading;
import comebackledger.measure.Quantity;
import comebackledger.policy.Policy;
import comebackledger.unit.Unit;
import comebackledger.visit.DriverReport;
import comebackledger.visit.Place;
import comebackledger.visit.Repair;
import comebackledger.visit.RepairAction;
import comebackledger.visit.Visit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** Judges one visit against its unit's build, under the fleet's policy; knows no other visit. */
public final class VisitJudge {
    private static final double SECONDS_PER_HOUR = 3600;

    private VisitJudge() {}

    /**
     * The facts alone, at a fraction of the cost: what an import and a rebuild ask for.
     *
     * @param answers shared by many visits
     */
    public static VisitFacts facts(Unit unit, Visit visit, Policy policy, BusAnswers answers) {
        CodeJudge codes = CodeJudge.of(visit, unit.build());
        return facts(visit, codes, BusJudge.ofFacts(unit, visit, codes.codes(), policy, answers), AirJudge.of(unit, visit, policy));
    }

    public static JudgedVisit judge(Unit unit, Visit visit, Policy policy) {
        List<Warning> warnings = new ArrayList<>();
        CodeJudge codes = CodeJudge.of(visit, unit.build());
        warnings.addAll(codes.warnings());
        BusJudge bus = BusJudge.of(unit, visit, codes.codes(), policy, new BusAnswers());
        warnings.addAll(bus.warnings());
        AirJudge air = AirJudge.of(unit, visit, policy);
        warnings.addAll(air.warnings());
        warnings.addAll(BuildWarnings.of(unit, visit));
        List<JudgedTest> tests = new ArrayList<>(bus.tests());
        tests.addAll(air.tests());
        return new JudgedVisit(facts(visit, codes, bus, air), List.copyOf(tests), List.copyOf(warnings));
    }

    private static VisitFacts facts(Visit visit, CodeJudge codes, BusJudge bus, AirJudge air) {
        return new VisitFacts(visit.id(), visit.arrivedAt(), visit.releasedAt(), odometer(visit), engineHours(visit),
                List.copyOf(codes.codes()),
                visit.codesCleared(), bus.facts(), air.facts(), bus.supplies(), repairs(visit), codes.lamps(visit), outOfService(visit),
                visit.driverReport().map(report -> report.defects().size()), visit.driverReport().flatMap(DriverReport::certification).isPresent());
    }

    private static MeterReading odometer(Visit visit) {
        return new MeterReading(visit.id(), visit.arrivedAt(), number(visit.meters().odometer(), 1), visit.meters().odometerReplaced(),
                number(visit.meters().previousOdometer(), 1));
    }

    private static MeterReading engineHours(Visit visit) {
        return new MeterReading(visit.id(), visit.arrivedAt(), number(visit.meters().engineHours(), SECONDS_PER_HOUR),
                visit.meters().engineHoursReplaced(),
                number(visit.meters().previousEngineHours(), SECONDS_PER_HOUR));
    }

    private static OptionalDouble number(Optional<Quantity> quantity, double perUnit) {
        return quantity.isPresent() ? OptionalDouble.of(quantity.get().si() / perUnit) : OptionalDouble.empty();
    }

    private static List<RepairFact> repairs(Visit visit) {
        List<RepairFact> facts = new ArrayList<>();
        for (Repair repair : visit.repairs()) {
            Place.parse(repair.place()).ifPresent(place -> facts.add(new RepairFact(place, repair.action(), repair.cause(), repair.claimsFixed())));
        }
        return List.copyOf(facts);
    }

    /** Whether anything was done in the visit: without it, an as-left test is read as as-found. */
    static boolean repaired(Visit visit) {
        for (Repair repair : visit.repairs()) {
            if (repair.action() != RepairAction.NONE) {
                return true;
            }
        }
        return false;
    }

    /** Completed repairs lift a declaration, also one of the same visit (49 CFR 396.9(c)(2)). */
    private static Optional<Boolean> outOfService(Visit visit) {
        return visit.outOfService()
                .flatMap(said -> said.requiredRepairsCompleted() ? Optional.of(false) : said.declared() ? Optional.of(true) : Optional.empty());
    }

}
