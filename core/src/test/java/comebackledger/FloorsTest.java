package comebackledger;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.Architectures.layeredArchitecture;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** The rooms of core stand on floors, and an arrow only ever points down. */
@AnalyzeClasses(packages = "comebackledger", importOptions = ImportOption.DoNotIncludeTests.class)
class FloorsTest {
    @ArchTest
    static final ArchRule rooms_make_no_circles = slices().matching("comebackledger.(*)..").should().beFreeOfCycles().allowEmptyShould(true);

    @ArchTest
    static final ArchRule systems_know_no_history = noClasses().that().resideInAnyPackage("..code..", "..bus..", "..air..")
            .should().dependOnClassesThat()
            .resideInAnyPackage("..unit..", "..visit..", "..policy..", "..judge..", "..trail..", "..baseline..", "..fleet..",
                    "..readiness..", "..briefing..", "..ledger..")
            .allowEmptyShould(true)
            .because("a reading is judged by physics alone; history is weighed in trail");

    @ArchTest
    static final ArchRule arrows_point_down = layeredArchitecture().consideringOnlyDependenciesInAnyPackage("comebackledger..")
            .withOptionalLayers(true)
            .layer("ledger").definedBy("..ledger..")
            .layer("answers").definedBy("..readiness..", "..briefing..", "..fleet..")
            .layer("baseline").definedBy("..baseline..")
            .layer("trail").definedBy("..trail..")
            .layer("judge").definedBy("..judge..")
            .layer("policy").definedBy("..policy..")
            .layer("systems").definedBy("..code..", "..bus..", "..air..")
            .layer("evidence").definedBy("..unit..", "..visit..")
            .layer("measure").definedBy("..measure..")
            .layer("stat").definedBy("..stat..")
            .whereLayer("ledger").mayNotBeAccessedByAnyLayer()
            .whereLayer("answers").mayOnlyBeAccessedByLayers("ledger")
            .whereLayer("baseline").mayOnlyBeAccessedByLayers("ledger", "answers")
            .whereLayer("trail").mayOnlyBeAccessedByLayers("ledger", "answers", "baseline")
            .whereLayer("judge").mayOnlyBeAccessedByLayers("ledger", "answers", "baseline", "trail")
            .whereLayer("policy").mayOnlyBeAccessedByLayers("ledger", "answers", "baseline", "trail", "judge")
            .whereLayer("systems").mayOnlyBeAccessedByLayers("ledger", "answers", "baseline", "trail", "judge", "policy")
            .because("a newcomer follows one visit down and one answer up");

    @ArchTest
    static final ArchRule core_is_pure = noClasses().that().resideInAPackage("comebackledger..")
            .should().dependOnClassesThat().resideInAnyPackage("java.sql..", "javax.sql..", "com.fasterxml..", "io.helidon..", "java.net.http..")
            .because("core holds every calculation as pure functions; JSON, SQL and HTTP are other modules");
}
