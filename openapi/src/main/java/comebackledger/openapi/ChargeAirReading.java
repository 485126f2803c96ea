package comebackledger.openapi;

import comebackledger.measure.Kind;
import comebackledger.measure.Quantity;
import comebackledger.visit.AirBackground;
import comebackledger.visit.AirMethod;
import comebackledger.visit.ChargeAirTest;
import comebackledger.visit.FlowReference;
import comebackledger.visit.Stage;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** A charge-air test as a visit and the calculation send it. */
public final class ChargeAirReading {
    private ChargeAirReading() {}

    static Optional<ChargeAirTest> test(Fields fields) {
        Stage stage = fields.word("stage", Stage.WORDS).orElse(Stage.AS_FOUND);
        return test(fields, stage, false);
    }

    /** A test by itself, which no build tells the volume of; the caller reads the engine and the rated boost before. */
    public static Optional<ChargeAirTest> alone(Fields fields) {
        return test(fields, Stage.AS_FOUND, true);
    }

    private static Optional<ChargeAirTest> test(Fields fields, Stage stage, boolean alone) {
        Optional<AirMethod> method = fields.required("method", fields.word("method", AirMethod.WORDS));
        Optional<Quantity> testPressure = fields.quantity("testPressure", Kind.PRESSURE);
        Optional<Quantity> flow = fields.quantity("flow", Kind.VOLUME_FLOW, Kind.MASS_FLOW);
        Optional<FlowReference> reference = fields.word("flowReference", FlowReference.WORDS);
        Optional<Quantity> meterPressure = fields.quantity("meterPressure", Kind.PRESSURE);
        Optional<AirBackground> background = fields.object("background").flatMap(ChargeAirReading::background);
        Optional<Quantity> airTemperature = fields.quantity("airTemperature", Kind.TEMPERATURE);
        Optional<Quantity> ambient = fields.quantity("ambientPressure", Kind.PRESSURE);
        Optional<Quantity> altitude = fields.quantity("altitude", Kind.LENGTH);
        OptionalDouble coefficient = fields.number("dischargeCoefficient", 0.1, 1);
        Optional<Quantity> volume = fields.quantity("volume", Kind.VOLUME);
        Optional<Quantity> start = fields.quantity("startPressure", Kind.PRESSURE);
        Optional<Quantity> end = fields.quantity("endPressure", Kind.PRESSURE);
        Optional<Quantity> duration = fields.quantity("duration", Kind.TIME);
        Optional<Quantity> startTemperature = fields.quantity("startTemperature", Kind.TEMPERATURE);
        Optional<Quantity> endTemperature = fields.quantity("endTemperature", Kind.TEMPERATURE);
        Optional<List<String>> leaksAt = fields.has("leaksAt") ? Optional.of(fields.names("leaksAt")) : Optional.empty();
        within(fields, "testPressure", testPressure, -1e5, 2e6, "-100 kPa to 2 MPa");
        within(fields, "meterPressure", meterPressure, 0, 2e6, "0 to 2 MPa");
        within(fields, "startPressure", start, -1e5, 2e6, "-100 kPa to 2 MPa");
        within(fields, "endPressure", end, -1e5, 2e6, "-100 kPa to 2 MPa");
        within(fields, "ambientPressure", ambient, 2e4, 1.2e5, "20 to 120 kPa, absolute");
        within(fields, "altitude", altitude, 0, 9000, "0 to 9 000 m");
        within(fields, "flow", flow, 0, 100, "0 to 100 m3/s or kg/s");
        aboveZero(fields, "volume", volume, 10, "10 m3");
        aboveZero(fields, "duration", duration, 1e5, "100 000 s");
        for (String name : List.of("airTemperature", "startTemperature", "endTemperature")) {
            Optional<Quantity> kelvin = name.startsWith("air") ? airTemperature : name.startsWith("start") ? startTemperature : endTemperature;
            within(fields, name, kelvin, 220, 500, "-53 to 227 degC");
        }
        method.ifPresent(way -> needs(fields, way, alone));
        return fields
                .build(() -> new ChargeAirTest(stage, method.orElseThrow(), testPressure, flow, reference, meterPressure, background, airTemperature,
                        ambient, altitude, coefficient, volume, start, end, duration, startTemperature, endTemperature, leaksAt));
    }

    static void within(Fields fields, String name, Optional<Quantity> quantity, double min, double max, String range) {
        if (quantity.filter(value -> value.si() < min || value.si() > max).isPresent()) {
            fields.faults().add(fields.pointer(name) + "/value", "`" + name + "` must be from " + range + ". Check the value and its unit.");
        }
    }

    static void aboveZero(Fields fields, String name, Optional<Quantity> quantity, double max, String most) {
        if (quantity.filter(value -> value.si() <= 0 || value.si() > max).isPresent()) {
            fields.faults().add(fields.pointer(name) + "/value",
                    "`" + name + "` must be above 0 and at most " + most + ". Check the value and its unit.");
        }
    }

    private static void needs(Fields fields, AirMethod method, boolean alone) {
        List<String> needed = switch (method) {
            case HELD_FLOW -> List.of("testPressure", "flow");
            case HOLD_DOWN -> alone
                    ? List.of("volume", "startPressure", "endPressure", "duration")
                    : List.of("startPressure", "endPressure", "duration");
            case SMOKE -> List.of("leaksAt");
        };
        for (String name : needed) {
            if (!fields.has(name)) {
                fields.fault(name, "`" + name + "` is missing. A test by " + method.word() + " needs " + String.join(", ", needed) + ".");
            }
        }
    }

    private static Optional<AirBackground> background(Fields fields) {
        Optional<Quantity> flow = fields.quantity("flow", Kind.VOLUME_FLOW, Kind.MASS_FLOW);
        Optional<Quantity> testPressure = fields.quantity("testPressure", Kind.PRESSURE);
        Optional<Quantity> start = fields.quantity("startPressure", Kind.PRESSURE);
        Optional<Quantity> end = fields.quantity("endPressure", Kind.PRESSURE);
        Optional<Quantity> duration = fields.quantity("duration", Kind.TIME);
        within(fields, "testPressure", testPressure, -1e5, 2e6, "-100 kPa to 2 MPa");
        within(fields, "startPressure", start, -1e5, 2e6, "-100 kPa to 2 MPa");
        within(fields, "endPressure", end, -1e5, 2e6, "-100 kPa to 2 MPa");
        within(fields, "flow", flow, 0, 100, "0 to 100 m3/s or kg/s");
        aboveZero(fields, "duration", duration, 1e5, "100 000 s");
        return fields.build(() -> new AirBackground(flow, testPressure, start, end, duration));
    }
}
