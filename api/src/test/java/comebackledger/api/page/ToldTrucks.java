package comebackledger.api.page;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Invented trucks, each with one story, put into a real ledger as a shop would send them. */
final class ToldTrucks {
    private static final String BUILD = """
            {"group": "linehaul", "inServiceAt": "2024-01-01T00:00:00Z", "tags": {"origin": "invented"},
             "build": {"supplyVolts": 12,
              "networks": [{"name": "j1939-1", "safety": true, "trunkMetres": 18.0, "wireOhmPerMetre": 0.021, "supplyToGroundOhm": 40,
                "terminators": [{"name": "terminator-a", "atMetres": 0, "ohm": 120}, {"name": "terminator-b", "atMetres": 18.0, "ohm": 120}],
                "connector": {"atMetres": 8.0, "stubMetres": 0.5},
                "nodes": [{"module": "engine", "address": 0, "atMetres": 1.0}, {"module": "transmission", "address": 3, "atMetres": 4.0},
                          {"module": "dash", "address": 23, "atMetres": 9.0}, {"module": "brakes", "address": 11, "atMetres": 15.5, "safety": true}]}],
              "chargeAir": {"ratedBoost": {"value": 30, "unit": "psi"}, "maxTestPressure": {"value": 20, "unit": "psi"},
                            "spots": ["cooler-core", "cooler-inlet-boot", "cooler-outlet-boot"]},
              "engine": {"displacement": {"value": 6.7, "unit": "L"}, "ratedSpeedRpm": 2400, "volumetricEfficiency": 0.9, "strokes": 4}}}
            """;
    private static final List<String> MODULES = List.of("engine", "transmission", "dash", "brakes");

    private ToldTrucks() {}

    static void tell(PageLedger ledger) {
        terminatorLostInRain(ledger);
        shortInAChafedHarness(ledger);
        silentModule(ledger);
        growingJoint(ledger);
        leakThatCameBack(ledger);
        lowSupply(ledger);
        nothingFound(ledger);
    }

    private static String visit(String day, int km, String complaint, String codes, String checks, String air, String repairs) {
        return String.format(Locale.ROOT, """
                {"arrivedAt": "%sT08:00:00Z", "releasedAt": "%sT16:00:00Z", "meters": {"odometer": {"value": %d, "unit": "km"}},
                 "complaint": "%s", "codes": [%s], "busChecks": [%s], "chargeAirTests": [%s], "repairs": [%s]}""", day, day, km, complaint, codes,
                checks, air, repairs);
    }

    private static String code(String code, String reporter) {
        return "{\"code\": \"" + code + "\", \"network\": \"j1939-1\", \"reportedBy\": \"" + reporter + "\", \"status\": \"active\"}";
    }

    private static String check(String stage, String readings, String... silent) {
        List<String> answered = new ArrayList<>(MODULES);
        answered.removeAll(List.of(silent));
        return "{\"network\": \"j1939-1\", \"stage\": \"" + stage + "\", \"power\": \"off\", " + readings + ", \"rollCall\": {\"answered\": ["
                + quoted(answered) + "], \"silent\": [" + quoted(List.of(silent)) + "]}}";
    }

    private static String quoted(List<String> names) {
        return String.join(", ", names.stream().map(name -> "\"" + name + "\"").toList());
    }

    private static String ohm(String reading, double ohm) {
        return String.format(Locale.ROOT, "\"%s\": {\"value\": %.1f, \"unit\": \"ohm\"}", reading, ohm);
    }

    private static String heldFlow(String stage, double litres, String leaks) {
        return String.format(Locale.ROOT, "{\"stage\": \"%s\", \"method\": \"held-flow\", \"testPressure\": {\"value\": 15, \"unit\": \"psi\"}, "
                + "\"flow\": {\"value\": %.1f, \"unit\": \"L/min\"}, \"leaksAt\": [%s]}", stage, litres, leaks);
    }

    private static String repair(String place, String action, String cause) {
        return "{\"place\": \"" + place + "\", \"action\": \"" + action + "\", \"cause\": \"" + cause + "\", \"claimsFixed\": true}";
    }

    private static void terminatorLostInRain(PageLedger ledger) {
        ledger.unit("RAIN", BUILD);
        ledger.visit("RAIN", "RAIN-1", visit("2026-01-12", 402_000, "service", "", check("as-found", ohm("highLow", 60.3)), "", ""));
        ledger.visit("RAIN", "RAIN-2", visit("2026-03-20", 421_000, "brake lamp on after rain", code("U0121", "engine"),
                check("as-found", ohm("highLow", 120.6)), "", ""));
    }

    private static void shortInAChafedHarness(PageLedger ledger) {
        ledger.unit("CHAFED", BUILD);
        ledger.visit("CHAFED", "CHAFED-1", visit("2026-03-22", 233_000, "every lamp on, no shift",
                code("U0100", "dash") + ", " + code("U0121", "dash"),
                check("as-found", ohm("highLow", 60.4) + ", " + ohm("highGround", 2.9) + ", " + ohm("lowGround", 61.8), "engine", "transmission",
                        "dash", "brakes"),
                "", ""));
    }

    private static void silentModule(PageLedger ledger) {
        ledger.unit("SILENT", BUILD);
        ledger.visit("SILENT", "SILENT-1", visit("2026-03-24", 188_000, "brake lamp on", code("U0121", "engine") + ", " + code("U0121", "dash"),
                check("as-found", ohm("highLow", 60.2), "brakes"), "", ""));
    }

    /** The last reading is still within its limits: only the line through all of them tells. */
    private static void growingJoint(PageLedger ledger) {
        ledger.unit("GROWS", BUILD);
        double[] ohms = {60.2, 60.5, 60.8, 61.2, 61.5, 61.7};
        for (int i = 0; i < ohms.length; i++) {
            ledger.visit("GROWS", "GROWS-" + (i + 1),
                    visit(List.of("2025-10-10", "2025-11-12", "2025-12-14", "2026-01-16", "2026-02-17", "2026-03-21")
                            .get(i), 300_000 + 9_000 * i, "service", "", check("as-found", ohm("highLow", ohms[i])), "", ""));
        }
    }

    private static void leakThatCameBack(PageLedger ledger) {
        ledger.unit("BOOT", BUILD);
        ledger.visit("BOOT", "BOOT-1", visit("2026-02-10", 510_000, "low power uphill", "", "",
                heldFlow("as-found", 430, "\"cooler-outlet-boot\"") + ", " + heldFlow("as-left", 26, ""),
                repair("charge-air.cooler-outlet-boot", "replaced", "split hose")));
        ledger.visit("BOOT", "BOOT-2", visit("2026-03-15", 522_000, "low power again", "", "", heldFlow("as-found", 410, "\"cooler-outlet-boot\""),
                ""));
    }

    private static void lowSupply(PageLedger ledger) {
        ledger.unit("WEAK", BUILD);
        ledger.visit("WEAK", "WEAK-1", visit("2026-03-26", 97_000, "codes of every module", code("U0100", "dash") + ", " + code("U0121", "engine"),
                check("as-found", ohm("highLow", 60.3) + ", \"supplyVoltage\": {\"value\": 9.6, \"unit\": \"V\"}", "brakes", "transmission"), "",
                ""));
    }

    private static void nothingFound(PageLedger ledger) {
        ledger.unit("NOTHING", BUILD);
        String[] days = {"2025-11-03", "2026-01-20", "2026-03-10"};
        for (int i = 0; i < days.length; i++) {
            ledger.visit("NOTHING", "NOTHING-" + (i + 1), visit(days[i], 150_000 + 11_000 * i, "message on the dash, gone again",
                    code("U0121", "engine") + ", " + code("U0121", "dash"), check("as-found", ohm("highLow", 60.2)), "", ""));
        }
    }

    /** Names as long as the contract lets them be, of the widest letter. */
    static void longNames(PageLedger ledger) {
        String name = "w".repeat(64);
        ledger.unit(name, BUILD.replace("j1939-1", name).replace("brakes", "m" + name.substring(1)).replace("cooler-outlet-boot", name));
        ledger.visit(name, name, visit("2026-03-20", 421_000, name, code("U0121", "engine"), check("as-found", ohm("highLow", 120.6), "brakes"),
                heldFlow("as-found", 900, "\"" + name + "\""), repair("network." + name + ".m" + name.substring(1), "replaced", name))
                .replace("j1939-1", name).replace("brakes", "m" + name.substring(1)));
        ledger.visit(name, "x" + name.substring(1), visit("2026-03-25", 423_000, name, "", check("as-found", ohm("highLow", 120.6), "brakes"), "", "")
                .replace("j1939-1", name).replace("brakes", "m" + name.substring(1)));
    }

    /** A life of many visits, every fifth with a terminator that is lost and replaced, every seventh with a leak; the last lost it again. */
    static void history(PageLedger ledger, String unit, int visits) {
        ledger.unit(unit, BUILD);
        LocalDate last = LocalDate.parse("2026-03-20");
        for (int i = 0; i < visits; i++) {
            boolean newest = i == visits - 1;
            boolean lost = newest || i % 5 == 3;
            boolean leak = !newest && i % 7 == 2;
            String left = lost && !newest ? ", " + check("as-left", ohm("highLow", 60.2)) : "";
            String repairs = lost && !newest
                    ? repair("network.j1939-1.terminator-b", "replaced", "water in it")
                    : leak ? repair("charge-air.cooler-outlet-boot", "tightened", "loose clamp") : "";
            ledger.visit(unit, unit + "-" + i, visit(last.minusDays(7L * (visits - 1 - i)).toString(), 100_000 + 1_500 * i, "work of that day",
                    lost ? code("U0121", "engine") : "", check("as-found", ohm("highLow", lost ? 120.5 : 60.1 + 0.1 * (i % 3))) + left,
                    leak ? heldFlow("as-found", 430, "\"cooler-outlet-boot\"") + ", " + heldFlow("as-left", 26, "") : heldFlow("as-found", 30, ""),
                    repairs));
        }
    }
}
