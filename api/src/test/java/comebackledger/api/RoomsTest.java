package comebackledger.api;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.Architectures.layeredArchitecture;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** The rooms of the service stand on floors, and an arrow only ever points down. */
@AnalyzeClasses(packages = "comebackledger.api", importOptions = ImportOption.DoNotIncludeTests.class)
class RoomsTest {
    @ArchTest
    static final ArchRule arrows_point_down = layeredArchitecture().consideringOnlyDependenciesInAnyPackage("comebackledger.api..")
            .layer("command").definedBy("..api.command..")
            .layer("doors").definedBy("comebackledger.api")
            .layer("route").definedBy("..api.route..")
            .layer("transfer").definedBy("..api.transfer..")
            .layer("page").definedBy("..api.page..")
            .layer("picture").definedBy("..api.picture..")
            .layer("http").definedBy("..api.http..")
            .layer("caller").definedBy("..api.caller..")
            .layer("setting").definedBy("..api.setting..")
            .layer("demo").definedBy("..api.demo..")
            .ensureAllClassesAreContainedInArchitecture()
            .whereLayer("command").mayNotBeAccessedByAnyLayer()
            .whereLayer("doors").mayOnlyBeAccessedByLayers("command")
            .whereLayer("route").mayOnlyBeAccessedByLayers("doors")
            .whereLayer("transfer").mayOnlyBeAccessedByLayers("route", "command")
            .whereLayer("page").mayOnlyBeAccessedByLayers("route")
            .whereLayer("picture").mayOnlyBeAccessedByLayers("route", "page")
            .whereLayer("http").mayOnlyBeAccessedByLayers("doors", "route")
            .whereLayer("caller").mayOnlyBeAccessedByLayers("doors", "route", "http")
            .whereLayer("setting").mayOnlyBeAccessedByLayers("command", "doors", "caller")
            .whereLayer("demo").mayOnlyBeAccessedByLayers("command")
            .because("a newcomer follows one call down");

    @ArchTest
    static final ArchRule commands_transfer_without_http = noClasses().that()
            .resideInAnyPackage("..api.transfer..", "..api.picture..", "..api.page..")
            .should().dependOnClassesThat().resideInAnyPackage("io.helidon..")
            .because("the command line takes and gives the same without a server");
}
