package comebackledger.api.demo;

import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.api.demo.DemoUnit.Duty;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;

/**
 * Three dozen invented units over two years: eight with a story, the others with the ordinary luck of a fleet.
 *
 * <p>A place of faults returns more often after {@code cleaned} than after {@code replaced}, and two units are worse than their peers, so that
 * the fleet's answers have something to find.
 */
public final class DemoFleet {
    private static final long SEED = 20_260_301;
    private static final int UNITS = 36;
    private static final double DAYS = 730;
    private static final double SERVICE_EVERY_DAYS = 61;
    private static final double FAULT_FREE_OHM = 60.2;
    private static final double ONE_TERMINATOR_OHM = 120.6;
    private static final String TERMINATOR_B = "network.j1939-1.terminator-b";
    private static final String BOOT = "cooler-outlet-boot";

    private final Instant from;
    private final SplittableRandom random = new SplittableRandom(SEED);

    private DemoFleet(Instant until) {
        this.from = until.truncatedTo(ChronoUnit.DAYS).minus((long) DAYS, ChronoUnit.DAYS);
    }

    /** Lines of an import, unit by unit and visit by visit; the same for every {@code until} of one day. */
    public static List<ObjectNode> lines(Instant until) {
        return new DemoFleet(until).make();
    }

    private List<ObjectNode> make() {
        List<ObjectNode> lines = new ArrayList<>();
        for (int i = 1; i <= UNITS; i++) {
            Duty duty = i % 6 == 0 ? Duty.VOCATIONAL : i % 3 == 0 ? Duty.REGIONAL : Duty.LINEHAUL;
            DemoUnit unit = new DemoUnit(String.format(Locale.ROOT, "D-%d", 100 + i), duty, from, random.split());
            live(i, unit);
            lines.addAll(unit.lines());
        }
        return List.copyOf(lines);
    }

    private static void live(int number, DemoUnit unit) {
        switch (number) {
            case 1 -> terminatorThatReturns(unit);
            case 2 -> leakThatGrows(unit);
            case 3 -> nothingFound(unit);
            case 4 -> silentBrakes(unit);
            case 5 -> faultThatMoves(unit);
            case 6 -> stillInShop(unit);
            case 7 -> defectNotCertified(unit);
            case 8 -> seenTooLongAgo(unit);
            case 9, 10 -> ordinary(unit, 90);
            case UNITS -> {
                // Registered and never seen: the ledger must say so.
            }
            default -> ordinary(unit, 420);
        }
    }

    private static DemoUnit.Visit service(DemoUnit unit, double day) {
        return unit.visit(day).busCheck("as-found", FAULT_FREE_OHM).heldFlow("as-found", 24 + 8 * unit.random().nextDouble())
                .lampsAtRelease(false, false);
    }

    private static void services(DemoUnit unit, double fromDay, double toDay) {
        for (double day = fromDay; day < toDay; day += SERVICE_EVERY_DAYS) {
            service(unit, day + 4 * unit.random().nextDouble());
        }
    }

    /** Cleaned, it holds three weeks; repaired, not three; replaced, it is proven at the bench. */
    private static void terminatorThatReturns(DemoUnit unit) {
        services(unit, 20, 640);
        terminatorOut(unit, 650).busCheck("as-left", FAULT_FREE_OHM).repaired(TERMINATOR_B, "cleaned", "water in the terminator");
        terminatorOut(unit, 671).repaired(TERMINATOR_B, "repaired", "corroded pin");
        terminatorOut(unit, 690).repaired(TERMINATOR_B, "replaced", "cracked housing").busCheck("as-left", FAULT_FREE_OHM);
    }

    private static DemoUnit.Visit terminatorOut(DemoUnit unit, double day) {
        return unit.visit(day).complaint("brake lamp on after rain").code("U0121", "engine").busCheck("as-found", ONE_TERMINATOR_OHM)
                .lampsAtRelease(false, false);
    }

    private static void leakThatGrows(DemoUnit unit) {
        for (int i = 0; i < 12; i++) {
            double flow = 60 + 24 * i + 8 * (unit.random().nextDouble() - 0.5);
            unit.visit(20 + SERVICE_EVERY_DAYS * i).busCheck("as-found", FAULT_FREE_OHM).heldFlow("as-found", flow).lampsAtRelease(false, false);
        }
    }

    private static void nothingFound(DemoUnit unit) {
        services(unit, 20, 500);
        for (int day : new int[]{520, 585, 640, 700}) {
            unit.visit(day).complaint("message on the dash, gone again").code("U0121", "dash").busCheck("as-found", FAULT_FREE_OHM)
                    .lampsAtRelease(false, true);
        }
    }

    private static void silentBrakes(DemoUnit unit) {
        services(unit, 20, 690);
        unit.visit(727).complaint("brake lamp on").code("U0121", "engine").busCheck("as-found", FAULT_FREE_OHM, "brakes")
                .lampsAtRelease(false, true);
    }

    private static void faultThatMoves(DemoUnit unit) {
        services(unit, 20, 660);
        terminatorOut(unit, 680).repaired(TERMINATOR_B, "replaced", "looked old").busCheck("as-left", FAULT_FREE_OHM);
        unit.visit(697).complaint("gear display blank").code("U0101", "engine").busCheck("as-found", FAULT_FREE_OHM, "transmission")
                .repaired("network.j1939-1.transmission", "repaired", "loose plug").lampsAtRelease(false, false);
    }

    private static void stillInShop(DemoUnit unit) {
        services(unit, 20, 680);
        unit.visit(DAYS - 1.2).complaint("no power uphill").heldFlow("as-found", 460, BOOT).stillInShop();
    }

    private static void defectNotCertified(DemoUnit unit) {
        services(unit, 20, 680);
        unit.visit(724).complaint("service").busCheck("as-found", FAULT_FREE_OHM).defectReported("brake lamp").lampsAtRelease(false, false);
    }

    private static void seenTooLongAgo(DemoUnit unit) {
        services(unit, 20, 520);
    }

    /** Services, and faults at random: half in the network, half in the charge air. */
    private static void ordinary(DemoUnit unit, double meanDaysBetweenFaults) {
        double nextFault = wait(unit, meanDaysBetweenFaults);
        double nextService = 20 + 30 * unit.random().nextDouble();
        while (Math.min(nextFault, nextService) < DAYS - 2) {
            if (nextService <= nextFault) {
                service(unit, nextService);
                nextService += SERVICE_EVERY_DAYS;
            } else {
                boolean cleaned = unit.random().nextDouble() < 0.5;
                fault(unit, nextFault, cleaned ? "cleaned" : "replaced");
                nextFault += 1.5 + Math.min(wait(unit, meanDaysBetweenFaults), wait(unit, cleaned ? 200 : 2000));
            }
        }
    }

    private static double wait(DemoUnit unit, double meanDays) {
        return -meanDays * Math.log1p(-unit.random().nextDouble());
    }

    private static void fault(DemoUnit unit, double day, String action) {
        if (unit.random().nextBoolean()) {
            terminatorOut(unit, day).repaired(TERMINATOR_B, action, "water in the terminator").busCheck("as-left", FAULT_FREE_OHM);
        } else {
            unit.visit(day).complaint("low power").heldFlow("as-found", 430 + 60 * unit.random().nextDouble(), BOOT)
                    .repaired("charge-air." + BOOT, action, "loose clamp").heldFlow("as-left", 26).lampsAtRelease(false, false);
        }
    }
}
