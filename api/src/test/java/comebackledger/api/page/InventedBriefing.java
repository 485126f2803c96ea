package comebackledger.api.page;

import comebackledger.briefing.Briefing;
import comebackledger.briefing.ReadingSeries;
import comebackledger.bus.BusVerdict;
import comebackledger.bus.FaultKind;
import comebackledger.bus.Line;
import comebackledger.stat.ReadingTrend;
import comebackledger.trail.Episode;
import comebackledger.trail.Flag;
import comebackledger.trail.Trail;
import comebackledger.trail.UnitMeters;
import comebackledger.visit.Place;
import comebackledger.visit.Stage;
import java.time.Instant;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** A briefing made by hand, so that the page under test moves with the page alone. */
final class InventedBriefing {
    private static final String SYSTEM = "network.j1939-1";
    private static final Instant AT = Instant.parse("2026-04-01T06:00:00Z");
    private static final Instant OPENED = Instant.parse("2026-03-01T08:00:00Z");
    private static final Instant REPAIRED = Instant.parse("2026-01-05T16:00:00Z");
    private static final OptionalDouble NONE = OptionalDouble.empty();

    private InventedBriefing() {}

    /** @param text what people wrote; @param rows of each table */
    static Briefing of(String text, int rows) {
        return new Briefing("T-104", AT,
                "Confirmed: network.j1939-1.terminator-b, open for 31 days; it came back 55 days after the repair of WO-0977.",
                Collections.nCopies(rows, trail()), List.of(drifting(), leak()), Collections.nCopies(2 * rows, suspect()),
                Collections.nCopies(2 * rows, test()), Collections.nCopies(rows, repair(text)), Collections.nCopies(rows, visit(text)),
                Collections.nCopies(rows, "How long the trunk of j1939-1 is."));
    }

    private static Trail trail() {
        UnitMeters.Since since = new UnitMeters.Since(54.7, OptionalDouble.of(9_000), NONE);
        Episode episode = new Episode("WO-1001", OPENED, Optional.empty(), Optional.empty(), true, false, true, false, Optional.of(since),
                Optional.of("WO-0977"), Optional.empty(), List.of(), List.of());
        Flag flag = new Flag(Flag.Kind.COMEBACK, SYSTEM + ".terminator-b", OPENED, Optional.empty(), List.of("WO-0977", "WO-1001"),
                "Came back 55 days after the claimed repair of WO-0977.");
        return new Trail(Place.of(SYSTEM, "terminator-b"), Trail.State.OPEN, List.of(episode), List.of(), List.of(), List.of(flag));
    }

    private static Briefing.Suspect suspect() {
        BusVerdict.Suspect told = new BusVerdict.Suspect(FaultKind.TRUNK_OPEN, Optional.of("trunk"), Optional.of(Line.HIGH),
                List.of("brakes", "terminator-b"), NONE, NONE, 0.42, Optional.empty(),
                "It would read 119.8 ohm between the lines; read was 120.9 ohm. Not told apart from terminator-missing at terminator-a so far; "
                        + "line-end-to-end would tell. Repaired in WO-0900 on 2026-01-05; 86 days ago. No passing test proved it.",
                List.of());
        return new Briefing.Suspect(SYSTEM, told.fault().word(), Optional.of(SYSTEM + ".trunk"), 0.42, told.why(), "WO-1001", Optional.of(told));
    }

    private static Briefing.NextTest test() {
        return new Briefing.NextTest(SYSTEM, "terminator-out", Optional.of(SYSTEM + ".terminator-b"), 8, 1.5,
                "Measures the terminator itself, and the rest without it.",
                List.of("Ohmmeter only with the power off: batteries disconnected by the maker's procedure, modules asleep.",
                        "The maker's service information and licensed practice come first.",
                        "This build's limit is 207 kPa (30 psi) gauge: set the regulator and the relief valve first.",
                        "Engine off and cool, key out: a hot or turning engine is another test's business.",
                        "Plugs, hoses and adapters can fly off under pressure: clamp them, stand aside, wear eye protection.",
                        "Too much pressure lifts crankcase and turbocharger seals: use a regulator and a relief valve."));
    }

    private static Briefing.RepairTried repair(String text) {
        return new Briefing.RepairTried(SYSTEM + ".terminator-b", "WO-0977", REPAIRED, "replaced", Optional.of(text), Optional.of(text), true,
                Optional.of(new UnitMeters.Since(54.7, OptionalDouble.of(9_000), NONE)), Optional.of("WO-1001"), false, false);
    }

    private static Briefing.RecentVisit visit(String text) {
        return new Briefing.RecentVisit("WO-1001", OPENED, Optional.empty(), OptionalDouble.of(409_000), Optional.of(text), Optional.of(text),
                List.of("U0121", "SPN 639 FMI 9"), List.of(new Briefing.Done(SYSTEM + ".terminator-b", "replaced", Optional.of(text))));
    }

    /** Seven readings that fall, one far above its limit, a repair between them. */
    static ReadingSeries drifting() {
        double[] ohm = {120.4, 60.4, 60.1, 59.7, 59.4, 59.0, 58.5};
        double[] km = new double[5];
        List<ReadingSeries.Point> points = new java.util.ArrayList<>();
        for (int i = 0; i < ohm.length; i++) {
            double total = 400_000 + 2_000 * Math.max(0, i - 1);
            points.add(new ReadingSeries.Point(Instant.parse("2026-01-05T08:00:00Z").plusSeconds(86_400L * 13 * Math.max(0, i - 1)),
                    OptionalDouble.of(total), ohm[i], "WO-" + (i == 0 ? 1 : i), i == 1 ? Stage.AS_LEFT : Stage.AS_FOUND, i > 1));
            if (i > 1) {
                km[i - 2] = total;
            }
        }
        ReadingTrend trend = ReadingTrend.of(km, new double[]{60.1, 59.7, 59.4, 59.0, 58.5}, 0.95);
        return new ReadingSeries(SYSTEM + ".highLowOhm", points, OptionalDouble.of(57.7), OptionalDouble.of(61.9), ReadingSeries.Axis.KM,
                Optional.empty(), trend, trend.crossing(OptionalDouble.of(57.7), OptionalDouble.of(61.9)),
                List.of(new ReadingSeries.Mark(REPAIRED, "WO-1", SYSTEM + ".terminator-b", "replaced")));
    }

    private static ReadingSeries leak() {
        return new ReadingSeries("charge-air.orificeMm", List.of(new ReadingSeries.Point(OPENED, NONE, 2.1, "WO-1001", Stage.AS_FOUND, true)), NONE,
                OptionalDouble.of(7.4), ReadingSeries.Axis.DAYS, Optional.of(OPENED), ReadingTrend.of(new double[]{0}, new double[]{2.1}, 0.95),
                Optional.empty(), List.of());
    }
}
