package comebackledger.openapi.calculation;

import com.fasterxml.jackson.databind.JsonNode;
import comebackledger.air.AirSystem;
import comebackledger.judge.AirJudge;
import comebackledger.measure.Kind;
import comebackledger.measure.Quantity;
import comebackledger.openapi.AirMapping;
import comebackledger.openapi.ChargeAirReading;
import comebackledger.openapi.Fields;
import comebackledger.openapi.UnitMapping;
import comebackledger.policy.Policy;
import comebackledger.unit.ChargeAir;
import comebackledger.unit.Engine;
import comebackledger.visit.ChargeAirTest;
import java.util.Optional;

/** {@code POST /v1/calculations/charge-air-test}: one test judged by the default policy, with nothing stored. */
public final class ChargeAirTestMapping {
    private ChargeAirTestMapping() {}

    /** @throws comebackledger.openapi.Problem 422 with every fault */
    public static JsonNode answer(Fields body) {
        Optional<Quantity> ratedBoost = body.quantity("ratedBoost", Kind.PRESSURE);
        Optional<Quantity> chargeTemperature = body.quantity("chargeTemperature", Kind.TEMPERATURE);
        Optional<Engine> engine = body.object("engine").flatMap(UnitMapping::engine);
        UnitMapping.inRange(body, ratedBoost, chargeTemperature);
        Optional<ChargeAirTest> test = ChargeAirReading.alone(body);
        body.faults().throwIfAny();
        ChargeAir air = new ChargeAir(ratedBoost, Optional.empty(), chargeTemperature, Optional.empty(), Optional.empty());
        AirSystem system = AirJudge.system(Optional.of(air), engine);
        return AirMapping.toWire(AirJudge.judge(test.orElseThrow(), system, Policy.DEFAULT));
    }
}
