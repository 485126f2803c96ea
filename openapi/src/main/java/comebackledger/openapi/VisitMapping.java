package comebackledger.openapi;

import com.fasterxml.jackson.databind.JsonNode;
import comebackledger.ledger.Evidence;
import comebackledger.measure.Kind;
import comebackledger.measure.Quantity;
import comebackledger.visit.Capture;
import comebackledger.visit.CaptureFormat;
import comebackledger.visit.Certification;
import comebackledger.visit.CodeEntry;
import comebackledger.visit.CodeStatus;
import comebackledger.visit.DriverReport;
import comebackledger.visit.Lamps;
import comebackledger.visit.Meters;
import comebackledger.visit.OutOfService;
import comebackledger.visit.Repair;
import comebackledger.visit.RepairAction;
import comebackledger.visit.Stage;
import comebackledger.visit.Visit;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.regex.Pattern;

/** The body of a visit to core's model. */
public final class VisitMapping {
    static final int ENTRIES_AT_MOST = 500;
    private static final Duration AHEAD_AT_MOST = Duration.ofHours(1);
    private static final Pattern J2012 = Pattern.compile("[PCBU][0-3][0-9A-F]{3}(-[0-9A-F]{2})?");
    private static final int HIGHEST_SPN = 524_287; // 19 bits, SAE J1939-73

    private VisitMapping() {}

    /**
     * @param now the server's clock, which a visit may be ahead of by an hour
     * @throws Problem 400 or 422 with every fault
     */
    public static Evidence<Visit> toCore(String id, byte[] body, Instant now) {
        JsonNode node = Json.object(body);
        Faults faults = new Faults();
        Optional<Visit> visit = visit(id, Fields.of(node, faults), Optional.of(now));
        faults.throwIfAny();
        return new Evidence<>(visit.orElseThrow(), Json.compact(body));
    }

    /** Evidence that was kept: it was checked when it came. */
    static Visit kept(String id, String evidence) {
        Faults faults = new Faults();
        Optional<Visit> visit = visit(id, Fields.of(Json.kept(evidence), faults), Optional.empty());
        faults.throwIfAny();
        return visit.orElseThrow();
    }

    /** A visit whose identifier stands outside the object read; without {@code now} its times are not held against a clock. */
    public static Optional<Visit> visit(String id, Fields fields, Optional<Instant> now) {
        Optional<Instant> arrived = fields.required("arrivedAt", fields.time("arrivedAt"));
        Optional<Instant> released = fields.time("releasedAt");
        times(fields, arrived, released, now);
        boolean voided = fields.flag("void").orElse(false);
        Optional<Meters> meters = fields.object("meters").map(VisitMapping::meters).orElse(Optional.of(Meters.NONE));
        Optional<String> complaint = fields.text("complaint");
        List<CodeEntry> codes = fields.list("codes", ENTRIES_AT_MOST, VisitMapping::code);
        List<Capture> captures = fields.list("captures", 50, VisitMapping::capture);
        boolean cleared = fields.flag("codesCleared").orElse(false);
        Optional<Lamps> lamps = fields.object("lamps").flatMap(VisitMapping::lamps);
        Optional<Lamps> lampsAtRelease = fields.object("lampsAtRelease").flatMap(VisitMapping::lamps);
        Optional<String> shop = fields.text("shop");
        var busChecks = fields.list("busChecks", 100, BusCheckReading::busCheck);
        var airTests = fields.list("chargeAirTests", 100, ChargeAirReading::test);
        List<Repair> repairs = fields.list("repairs", 200, VisitMapping::repair);
        Optional<OutOfService> outOfService = fields.object("outOfService").flatMap(VisitMapping::outOfService);
        Optional<DriverReport> driverReport = fields.object("driverReport").flatMap(VisitMapping::driverReport);
        Optional<String> note = fields.text("note");
        return fields
                .build(() -> new Visit(id, arrived.orElseThrow(), released, voided, meters.orElseThrow(), complaint, codes, captures, cleared, lamps,
                        lampsAtRelease, shop, busChecks, airTests, repairs, outOfService, driverReport, note));
    }

    /** The last instant that counts as now; clocks differ, and by no more. */
    static Instant latest(Instant now) {
        return now.plus(AHEAD_AT_MOST);
    }

    private static void times(Fields fields, Optional<Instant> arrived, Optional<Instant> released, Optional<Instant> now) {
        if (arrived.isPresent() && released.isPresent() && released.get().isBefore(arrived.get())) {
            fields.fault("releasedAt", "The release lies before the arrival. Check both times and their offsets.");
        }
        now.map(VisitMapping::latest).ifPresent(latest -> {
            if (arrived.filter(instant -> instant.isAfter(latest)).isPresent()) {
                fields.fault("arrivedAt", "The arrival lies more than one hour ahead of the server's clock. Send a visit when it has begun.");
            }
            if (released.filter(instant -> instant.isAfter(latest)).isPresent()) {
                fields.fault("releasedAt",
                        "The release lies more than one hour ahead of the server's clock. Send it when the unit has left; leave it out until then.");
            }
        });
    }

    private static Optional<Meters> meters(Fields fields) {
        Optional<Quantity> odometer = fields.quantity("odometer", Kind.DISTANCE);
        boolean odometerReplaced = fields.flag("odometerReplaced").orElse(false);
        Optional<Quantity> previousOdometer = fields.quantity("previousOdometer", Kind.DISTANCE);
        Optional<Quantity> hours = fields.quantity("engineHours", Kind.TIME);
        boolean hoursReplaced = fields.flag("engineHoursReplaced").orElse(false);
        Optional<Quantity> previousHours = fields.quantity("previousEngineHours", Kind.TIME);
        if (previousOdometer.isPresent() && !odometerReplaced) {
            fields.fault("previousOdometer", "`previousOdometer` says what a replaced meter showed last. Send it with `odometerReplaced: true`.");
        }
        if (previousHours.isPresent() && !hoursReplaced) {
            fields.fault("previousEngineHours",
                    "`previousEngineHours` says what a replaced meter showed last. Send it with `engineHoursReplaced: true`.");
        }
        return fields.build(() -> new Meters(odometer, odometerReplaced, previousOdometer, hours, hoursReplaced, previousHours));
    }

    /** A trouble code as a visit and the bus check send it. */
    public static Optional<CodeEntry> code(Fields fields) {
        Optional<String> code = fields.text("code");
        if (code.filter(text -> !J2012.matcher(text).matches()).isPresent()) {
            fields.fault("code",
                    "A code is a letter P, C, B or U, a digit 0 to 3 and three hexadecimal digits, as U0121, with a failure type if there is one, "
                            + "as U0121-87. For SAE J1939 send spn and fmi.");
        }
        OptionalInt spn = fields.integer("spn", 0, HIGHEST_SPN);
        OptionalInt fmi = fields.integer("fmi", 0, 31);
        OptionalInt source = fields.integer("sourceAddress", 0, 255);
        Optional<String> network = fields.name("network");
        Optional<String> reportedBy = fields.name("reportedBy");
        Optional<CodeStatus> status = fields.required("status", fields.word("status", CodeStatus.WORDS));
        OptionalInt occurrences = fields.integer("occurrences", 0, 1_000_000);
        boolean duringService = fields.flag("setDuringService").orElse(false);
        Stage stage = fields.word("stage", Stage.WORDS).orElse(Stage.AS_FOUND);
        boolean j1939 = fields.has("spn") || fields.has("fmi");
        if (fields.has("code") == j1939) {
            fields.faults().add(fields.pointer(), "A code entry has either `code`, or `spn` with `fmi`.");
        } else if (j1939 && !(fields.has("spn") && fields.has("fmi"))) {
            fields.fault(fields.has("spn") ? "fmi" : "spn", "`spn` and `fmi` go together.");
        }
        return fields
                .build(() -> new CodeEntry(code, spn, fmi, source, network, reportedBy, status.orElseThrow(), occurrences, duringService, stage));
    }

    private static Optional<Capture> capture(Fields fields) {
        Optional<CaptureFormat> format = fields.required("format", fields.word("format", CaptureFormat.WORDS));
        Optional<String> network = fields.name("network");
        Stage stage = fields.word("stage", Stage.WORDS).orElse(Stage.AS_FOUND);
        Optional<String> text = fields.required("text", fields.text("text"));
        return fields.build(() -> new Capture(format.orElseThrow(), network, stage, text.orElseThrow()));
    }

    private static Optional<Lamps> lamps(Fields fields) {
        Optional<Boolean> redStop = fields.flag("redStop");
        Optional<Boolean> amber = fields.flag("amberWarning");
        Optional<Boolean> malfunction = fields.flag("malfunction");
        Optional<Boolean> protect = fields.flag("protect");
        return fields.build(() -> new Lamps(redStop, amber, malfunction, protect));
    }

    private static Optional<Repair> repair(Fields fields) {
        Optional<String> place = fields.required("place", fields.text("place"));
        if (place.filter(text -> text.isBlank() || text.length() > 200).isPresent()) {
            fields.fault("place", "A place has 1 to 200 characters, such as network.j1939-1.terminator-b.");
        }
        Optional<String> cause = fields.text("cause");
        Optional<RepairAction> action = fields.required("action", fields.word("action", RepairAction.WORDS));
        Optional<String> part = fields.text("part");
        boolean claims = fields.flag("claimsFixed").orElse(false);
        if (claims && action.filter(word -> word == RepairAction.NONE).isPresent()) {
            fields.fault("claimsFixed", "With action none nothing was done that could have fixed it. Name the action, or leave claimsFixed out.");
        }
        return fields.build(() -> new Repair(place.orElseThrow(), cause, action.orElseThrow(), part, claims));
    }

    private static Optional<OutOfService> outOfService(Fields fields) {
        Optional<Boolean> declared = fields.required("declared", fields.flag("declared"));
        boolean completed = fields.flag("requiredRepairsCompleted").orElse(false);
        return fields.build(() -> new OutOfService(declared.orElseThrow(), completed));
    }

    private static Optional<DriverReport> driverReport(Fields fields) {
        List<String> defects = fields.texts("defects");
        Optional<Certification> certification = fields.word("certification", Certification.WORDS);
        return fields.build(() -> new DriverReport(defects, certification));
    }
}
