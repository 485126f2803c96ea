package comebackledger.visit;

import java.util.Optional;

/** Which warning lamps were on; one that was not reported is unknown. */
public record Lamps(Optional<Boolean> redStop, Optional<Boolean> amberWarning, Optional<Boolean> malfunction, Optional<Boolean> protect) {}
