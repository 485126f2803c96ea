package comebackledger.bus;

import java.util.Optional;

/** The place of each suspicion: the last part of {@code network.<name>.<part>}. */
final class Places {
    static final String TRUNK = "trunk";
    static final String CONNECTOR = "connector";

    private Places() {}

    static Optional<String> part(Layout layout, Family family) {
        return switch (family.kind()) {
            case TERMINATOR_MISSING, TERMINATOR_DRIFTED -> Optional.of(layout.terminators.get(family.part()).name());
            case EXTRA_TERMINATOR, TRUNK_OPEN, TRUNK_SERIES_RESISTANCE, TRUNK_SHORT_HIGH_LOW -> Optional.of(TRUNK);
            case SHORT_TO_GROUND, SHORT_TO_SUPPLY -> Optional.of(
                    family.part() == Tap.NONE ? TRUNK : layout.terminators.get(family.part()).name());
            case MODULE_SUPPLY, MODULE_STUB, MODULE_INTERNAL, MODULE_SHUNT, MODULE_UNPLUGGED, REPORTER_ITSELF, SENDER_DATA -> Optional
                    .of(layout.nodes.get(family.part()).module());
            case CONNECTOR_FAULT -> Optional.of(CONNECTOR);
            case NONE_FOUND, INTERMITTENT_NONE_PRESENT, TEST_CONDITION, SUPPLY_LOW, OTHER -> Optional.empty();
        };
    }
}
