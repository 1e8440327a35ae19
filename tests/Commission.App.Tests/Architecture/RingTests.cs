namespace Commission.App.Tests.Architecture;

/// <summary>Which project may know which, read from the compiled references.</summary>
public sealed class RingTests
{
    private static readonly Dictionary<string, string[]> Projects = new()
    {
        ["Commission.Core"] = [],
        ["Commission.Workshop"] = ["Commission.Core"],
        ["Commission.Practice"] = ["Commission.Core"],
        ["Commission.Adapters"] = ["Commission.Core", "Commission.Workshop"],
        ["commission"] = ["Commission.Core", "Commission.Workshop", "Commission.Adapters", "Commission.Practice"],
    };

    private static readonly Dictionary<string, string[]> Packages = new()
    {
        ["Commission.Core"] = ["MathNet.Numerics", "YamlDotNet"],
        ["Commission.Workshop"] = [],
        ["Commission.Practice"] = [],
        ["Commission.Adapters"] = ["LiteDB", "System.IO.Ports"],
        ["commission"] = ["System.CommandLine", "Terminal.Gui"],
    };

    public static TheoryData<string> Names => [.. Projects.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void A_project_knows_only_the_rings_inside_it(string name)
    {
        var own = Projects.Keys.ToHashSet();
        var known = References(name).Where(own.Contains);
        Assert.Empty(known.Except(Projects[name]));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void A_package_is_used_by_the_one_project_it_belongs_to(string name)
    {
        var foreign = References(name).Where(r => !Projects.ContainsKey(r) && !Framework(r));
        Assert.Empty(foreign.Except(Packages[name]));
    }

    [Fact]
    public void The_practice_machine_uses_of_Core_only_machines_and_quantities()
    {
        // A forward model that shared formulas with the fits would prove nothing about them.
        var others = Compiled.Types("Commission.Practice").SelectMany(Compiled.UsedBy)
            .Select(t => Compiled.Outermost(t).Namespace)
            .Where(space => space.StartsWith("Commission.Core.", StringComparison.Ordinal))
            .Where(space => space.Split('.')[2] is not ("Machines" or "Quantities"))
            .Distinct();
        Assert.Empty(others);
    }

    private static IEnumerable<string> References(string name) =>
        Compiled.Assembly(name).MainModule.AssemblyReferences.Select(r => r.Name);

    // System.IO.Ports and System.CommandLine carry framework-like names but come as packages.
    private static bool Framework(string name) =>
        name is not ("System.IO.Ports" or "System.CommandLine")
        && (name.StartsWith("System", StringComparison.Ordinal) || name is "mscorlib" or "netstandard" || name.StartsWith("Microsoft.Win32", StringComparison.Ordinal));
}
