package comebackledger.trail;

import comebackledger.code.CodeKind;
import comebackledger.judge.AirFact;
import comebackledger.judge.BusFact;
import comebackledger.judge.CodeFact;
import comebackledger.judge.LampFact;
import comebackledger.judge.RepairFact;
import comebackledger.judge.SupplyFact;
import comebackledger.judge.SuspectFact;
import comebackledger.judge.Verdict;
import comebackledger.judge.VisitFacts;
import comebackledger.measure.MeterReading;
import comebackledger.visit.AirMethod;
import comebackledger.visit.CodeStatus;
import comebackledger.visit.Place;
import comebackledger.visit.RepairAction;
import comebackledger.visit.Stage;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;

/** Tells one invented visit as the facts that a judge would make of it. */
final class VisitStory {
    static final String NETWORK = "j1939-1";
    static final String SYSTEM = Place.network(NETWORK);

    private final String visit;
    private final Instant arrivedAt;
    private Optional<Instant> releasedAt;
    private MeterReading odometer;
    private MeterReading engineHours;
    private final List<CodeFact> codes = new ArrayList<>();
    private boolean cleared;
    private final List<BusFact> checks = new ArrayList<>();
    private final List<AirFact> air = new ArrayList<>();
    private final List<SupplyFact> supplies = new ArrayList<>();
    private final List<RepairFact> repairs = new ArrayList<>();
    private LampFact lamps = LampFact.UNKNOWN;

    VisitStory(String visit, String arrivedAt) {
        this.visit = visit;
        this.arrivedAt = Instant.parse(arrivedAt);
        this.releasedAt = Optional.of(this.arrivedAt.plus(Duration.ofHours(8)));
        this.odometer = new MeterReading(visit, this.arrivedAt, OptionalDouble.empty(), false, OptionalDouble.empty());
        this.engineHours = odometer;
    }

    VisitStory released(String at) {
        releasedAt = at.isEmpty() ? Optional.empty() : Optional.of(Instant.parse(at));
        return this;
    }

    VisitStory km(double km) {
        odometer = new MeterReading(visit, arrivedAt, OptionalDouble.of(km), false, OptionalDouble.empty());
        return this;
    }

    VisitStory newOdometer(double km, double previousKm) {
        odometer = new MeterReading(visit, arrivedAt, OptionalDouble.of(km), true, OptionalDouble.of(previousKm));
        return this;
    }

    VisitStory hours(double hours) {
        engineHours = new MeterReading(visit, arrivedAt, OptionalDouble.of(hours), false, OptionalDouble.empty());
        return this;
    }

    VisitStory code(String code, String accused, String reporter, CodeStatus status, int occurrences, boolean duringService) {
        codes.add(new CodeFact(code + "@" + reporter, code, "/codes/" + codes.size(), CodeFact.Family.COMMUNICATION,
                CodeKind.LOST_COMMUNICATION, Optional.of(SYSTEM),
                accused.isEmpty() ? Optional.empty() : Optional.of(accused), Optional.of(reporter), status,
                occurrences < 0 ? OptionalInt.empty() : OptionalInt.of(occurrences), duringService, Stage.AS_FOUND));
        return this;
    }

    VisitStory active(String code, String accused, String reporter) {
        return code(code, accused, reporter, CodeStatus.ACTIVE, -1, false);
    }

    VisitStory clearedCodes() {
        cleared = true;
        return this;
    }

    VisitStory check(Stage stage, Verdict verdict, List<String> answered, List<String> silent, SuspectFact... suspects) {
        checks.add(new BusFact(NETWORK, stage, List.of("/busChecks/" + checks.size()), verdict, Set.of("highLow"), answered, silent,
                List.of(suspects), OptionalDouble.of(verdict == Verdict.WITHIN ? 60.1 : 119.6), OptionalDouble.of(58), OptionalDouble.of(62)));
        return this;
    }

    VisitStory terminatorFault(Stage stage) {
        return check(stage, Verdict.OUTSIDE, List.of("engine", "brakes"), List.of(),
                new SuspectFact("terminator-missing", Optional.of("terminator-b"), List.of(), 0.9));
    }

    VisitStory passes(Stage stage) {
        return check(stage, Verdict.WITHIN, List.of("engine", "brakes"), List.of(), new SuspectFact("none-found", Optional.empty(), List.of(), 0.9));
    }

    VisitStory air(Stage stage, Verdict verdict, double share, String... spots) {
        air.add(new AirFact("/chargeAirTests/" + air.size(), stage, AirMethod.HELD_FLOW, verdict, List.of(spots), Optional.empty(),
                OptionalDouble.empty(),
                OptionalDouble.of(share)));
        return this;
    }

    VisitStory supply(double volts, boolean low) {
        supplies.add(new SupplyFact(Stage.AS_FOUND, volts, low, "/busChecks/0/supplyVoltage"));
        return this;
    }

    VisitStory repair(String place, boolean claims) {
        repairs.add(new RepairFact(Place.parse(place).orElseThrow(), RepairAction.REPLACED, Optional.empty(), claims));
        return this;
    }

    VisitStory lamps(boolean redStop, boolean amber) {
        lamps = new LampFact(Optional.of(redStop), Optional.of(amber), Optional.empty(), Optional.empty());
        return this;
    }

    VisitFacts facts() {
        return new VisitFacts(visit, arrivedAt, releasedAt, odometer, engineHours, List.copyOf(codes), cleared, List.copyOf(checks), List.copyOf(air),
                List.copyOf(supplies), List.copyOf(repairs), lamps, Optional.empty(), Optional.empty(), false);
    }
}
