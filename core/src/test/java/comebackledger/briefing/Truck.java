package comebackledger.briefing;

import comebackledger.judge.VisitJudge;
import comebackledger.measure.Quantity;
import comebackledger.measure.UnitOfMeasure;
import comebackledger.policy.Policy;
import comebackledger.trail.Fold;
import comebackledger.trail.UnitView;
import comebackledger.unit.Build;
import comebackledger.unit.ChargeAir;
import comebackledger.unit.Connector;
import comebackledger.unit.Engine;
import comebackledger.unit.Network;
import comebackledger.unit.Node;
import comebackledger.unit.Unit;
import comebackledger.visit.AirMethod;
import comebackledger.visit.BusCheck;
import comebackledger.visit.BusReadings;
import comebackledger.visit.ChargeAirTest;
import comebackledger.visit.CodeEntry;
import comebackledger.visit.CodeStatus;
import comebackledger.visit.Meters;
import comebackledger.visit.Power;
import comebackledger.visit.Repair;
import comebackledger.visit.RepairAction;
import comebackledger.visit.RollCall;
import comebackledger.visit.Stage;
import comebackledger.visit.Visit;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.TreeMap;

/** An invented truck with its visits: two networks of known build, charge air with three spots. */
final class Truck {
    static final String J1939 = "network.j1939-1";
    private static final OptionalDouble NONE = OptionalDouble.empty();

    private final List<Visit> visits = new ArrayList<>();
    private Build build = new Build(OptionalDouble.of(12), Optional.of(List.of(network("body", false), network("j1939-1", true))),
            Optional.of(
                    new ChargeAir(Optional.of(Quantity.of(200, UnitOfMeasure.KILOPASCAL)), Optional.of(Quantity.of(207, UnitOfMeasure.KILOPASCAL)),
                            Optional.empty(), Optional.empty(), Optional.of(List.of("cooler-inlet-boot", "cooler-outlet-boot", "intake-elbow")))),
            Optional.of(new Engine(Optional.of(Quantity.of(12.9, UnitOfMeasure.LITRE)), OptionalDouble.of(1800), OptionalDouble.of(0.9),
                    OptionalInt.of(4))));

    private static Network network(String name, boolean safety) {
        return new Network(name, safety, OptionalDouble.of(18), OptionalDouble.of(0.021), Optional.empty(),
                Optional.of(new Connector(OptionalDouble.of(8), NONE, Optional.empty(), Optional.empty())), NONE,
                Optional.of(List.of(node("engine", 1), node("transmission", 4), node("brakes", 15.5))));
    }

    private static Node node(String module, double atMetres) {
        return new Node(module, OptionalInt.empty(), OptionalDouble.of(atMetres), NONE, NONE, NONE, NONE, NONE, false);
    }

    Truck ofUnknownBuild() {
        build = Build.UNKNOWN;
        return this;
    }

    /** One visit of eight hours; what was found, done and left is added to it. */
    final class Stay {
        private final String id;
        private final Instant arrivedAt;
        private final Optional<Quantity> odometer;
        private final List<CodeEntry> codes = new ArrayList<>();
        private final List<BusCheck> checks = new ArrayList<>();
        private final List<ChargeAirTest> air = new ArrayList<>();
        private final List<Repair> repairs = new ArrayList<>();

        Stay(String id, String day, double km) {
            this.id = id;
            this.arrivedAt = Instant.parse(day + "T08:00:00Z");
            this.odometer = Optional.of(Quantity.of(km, UnitOfMeasure.KILOMETRE));
        }

        Stay check(String network, Stage stage, double ohm) {
            return check(network, stage, Optional.of(ohm), List.of("engine", "transmission", "brakes"), List.of());
        }

        Stay check(String network, Stage stage, Optional<Double> ohm, List<String> answered, List<String> silent) {
            BusReadings none = BusReadings.NONE;
            BusReadings read = new BusReadings(ohm.map(value -> Quantity.of(value, UnitOfMeasure.OHM)), none.highGround(), none.lowGround(),
                    none.highSupply(), none.lowSupply(), none.supplyVoltage(), none.highVoltage(), none.lowVoltage());
            checks.add(new BusCheck(network, stage, ohm.map(_ -> Power.OFF), read, Optional.empty(), Optional.empty(),
                    Optional.of(new RollCall(answered, silent)), List.of(), Optional.empty(), Optional.empty()));
            return this;
        }

        Stay code(String code) {
            codes.add(new CodeEntry(Optional.of(code), OptionalInt.empty(), OptionalInt.empty(), OptionalInt.empty(), Optional.empty(),
                    Optional.of("engine"), CodeStatus.ACTIVE, OptionalInt.empty(), false, Stage.AS_FOUND));
            return this;
        }

        Stay heldFlow(Stage stage, double litresPerMinute, String... spots) {
            air.add(new ChargeAirTest(stage, AirMethod.HELD_FLOW, Optional.of(Quantity.of(15, UnitOfMeasure.PSI)),
                    Optional.of(Quantity.of(litresPerMinute, UnitOfMeasure.LITRE_PER_MINUTE)), Optional.empty(), Optional.empty(), Optional.empty(),
                    Optional.empty(), Optional.empty(), Optional.empty(), NONE, Optional.empty(), Optional.empty(), Optional.empty(),
                    Optional.empty(), Optional.empty(), Optional.empty(), Optional.of(List.of(spots))));
            return this;
        }

        Stay replaced(String place) {
            repairs.add(new Repair(place, Optional.of("water in the part"), RepairAction.REPLACED, Optional.of("part 7"), true));
            return this;
        }

        Truck leaves() {
            visits.add(new Visit(id, arrivedAt, Optional.of(arrivedAt.plus(Duration.ofHours(8))), false,
                    new Meters(odometer, false, Optional.empty(), Optional.empty(), false, Optional.empty()), Optional.of("complaint of " + id),
                    codes,
                    List.of(), false, Optional.empty(), Optional.empty(), Optional.empty(), checks, air, repairs, Optional.empty(), Optional.empty(),
                    Optional.empty()));
            return Truck.this;
        }
    }

    Stay arrives(String id, String day, double km) {
        return new Stay(id, day, km);
    }

    private Unit unit() {
        return new Unit("T-1", Optional.empty(), Optional.empty(), Optional.empty(), new TreeMap<>(Map.of()), build);
    }

    UnitView view(String at) {
        return UnitView.of(Fold.of(visits.stream().map(visit -> VisitJudge.judge(unit(), visit, Policy.DEFAULT).facts()).toList(), Policy.DEFAULT),
                Policy.DEFAULT, Instant.parse(at + "T00:00:00Z"));
    }

    Briefing briefing(String at) {
        return Briefing.of(unit(), view(at),
                visits.stream().map(ShelvedVisit::of).toList());
    }
}
