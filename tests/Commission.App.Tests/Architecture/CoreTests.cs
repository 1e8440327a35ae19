using Commission.Core.Characteristics;
using Commission.Tests;
using Mono.Cecil;
using Mono.Cecil.Cil;

namespace Commission.App.Tests.Architecture;

/// <summary>What the inner ring may use: only what stands to the left, and nothing that touches the world.</summary>
public sealed class CoreTests
{
    private const string Core = "Commission.Core";

    private static readonly string[] Order =
    [
        "Quantities", "Machines", "Instruments", "Readings", "Fits", "Suspects", "Characteristics", "Plans", "Procedures", "Motion", "Corrections",
        "History", "Upkeep", "Reports",
    ];

    private static readonly string[] ForbiddenTypes =
    [
        "System.Console", "System.Random", "System.Diagnostics.Stopwatch", "System.Diagnostics.Process", "System.IO.File", "System.IO.FileInfo", "System.IO.FileStream",
        "System.IO.Directory", "System.IO.DirectoryInfo", "System.Threading.Thread", "System.Net.Sockets.Socket", "System.Security.Cryptography.SHA256",
    ];

    private static readonly string[] ForbiddenCalls =
    [
        "System.DateTime::get_Now", "System.DateTime::get_UtcNow", "System.DateTime::get_Today", "System.DateTimeOffset::get_Now", "System.DateTimeOffset::get_UtcNow",
        "System.TimeProvider::get_System", "System.Guid::NewGuid", "System.Environment::get_TickCount", "System.Environment::get_TickCount64",
        "System.Environment::GetEnvironmentVariable", "System.Globalization.CultureInfo::get_CurrentCulture", "System.Globalization.CultureInfo::get_CurrentUICulture",
        "System.TimeZoneInfo::get_Local", "System.DateTimeOffset::ToLocalTime", "System.DateTime::ToLocalTime",
    ];

    [Fact]
    public void A_folder_uses_only_folders_to_its_left()
    {
        var wrong =
            from type in Compiled.Types(Core)
            let here = Folder(Compiled.Outermost(type))
            where here is not null
            from used in Compiled.UsedBy(type)
            let there = Folder(Compiled.Outermost(used))
            where there is not null && Array.IndexOf(Order, there) > Array.IndexOf(Order, here)
            select $"{type.FullName} in {here} uses {used.FullName} in {there}";
        Assert.Empty(wrong.Distinct());
    }

    [Fact]
    public void Every_folder_has_its_place_in_the_order()
    {
        var folders = Compiled.Types(Core).Select(t => Folder(Compiled.Outermost(t))).OfType<string>().Distinct();
        Assert.Empty(folders.Except(Order));
    }

    [Fact]
    public void No_clock_no_chance_no_file_no_console()
    {
        var types =
            from type in Compiled.Types(Core)
            from used in Compiled.UsedBy(type)
            where ForbiddenTypes.Contains(used.FullName)
            select $"{type.FullName} uses {used.FullName}";
        var calls =
            from type in Compiled.Types(Core)
            from called in Compiled.CalledBy(type)
            where ForbiddenCalls.Contains(called)
            select $"{type.FullName} calls {called}";
        Assert.Empty(types.Concat(calls).Distinct());
    }

    [Fact]
    public void No_switch_over_kinds_of_characteristic_stands_outside_their_declarations()
    {
        var kinds = CharacteristicKinds.All.Select(kind => kind.Id).ToHashSet();
        var switches =
            from assembly in new[] { Core, "Commission.Workshop", "Commission.Adapters", "commission" }
            from type in Compiled.Types(assembly)
            where Compiled.Outermost(type).Namespace != "Commission.Core.Characteristics"
            from method in type.Methods
            where method.HasBody && Compared(method).Where(kinds.Contains).Distinct().Count() > 1
            select method.FullName;
        Assert.Empty(switches);
    }

    [Fact]
    public void No_file_is_longer_than_400_lines()
    {
        var tooLong = Repository.Sources("src").Concat(Repository.Sources("tests"))
            .Select(file => (file, lines: File.ReadLines(file).Count()))
            .Where(f => f.lines > 400)
            .Select(f => $"{Path.GetRelativePath(Repository.Root, f.file)}: {f.lines}");
        Assert.Empty(tooLong);
    }

    [Fact]
    public void No_method_is_longer_than_60_lines()
    {
        var tooLong = Repository.Sources("src").Concat(Repository.Sources("tests"))
            .SelectMany(file => MethodLengths.Of(File.ReadAllLines(file)).Where(method => method.Lines > 60)
                .Select(method => $"{Path.GetRelativePath(Repository.Root, file)}:{method.Start}: {method.Lines}"));
        Assert.Empty(tooLong);
    }

    private static string? Folder(TypeReference type) =>
        type.Namespace.StartsWith(Core + ".", StringComparison.Ordinal) ? type.Namespace[(Core.Length + 1)..].Split('.')[0] : null;

    // A switch over strings compiles to literals, each followed by a comparison.
    private static IEnumerable<string> Compared(MethodDefinition method) =>
        from instruction in method.Body.Instructions
        where instruction.OpCode == OpCodes.Ldstr
              && instruction.Next?.Operand is MethodReference { DeclaringType.FullName: "System.String", Name: "op_Equality" or "Equals" }
        select (string)instruction.Operand;
}
