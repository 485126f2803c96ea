package comebackledger.unit;

import java.util.Optional;
import java.util.OptionalDouble;

/** The diagnostic connector: where on the trunk, on how long a stub, and which pins the lines are on. */
public record Connector(OptionalDouble atMetres, OptionalDouble stubMetres, Optional<String> high, Optional<String> low) {}
