using Commission.Tests;

namespace Commission.App.Tests.CommandLine;

/// <summary>Requests as typed, on a store in a folder of each test's own.</summary>
public abstract class TypedRequests : OwnFolder
{
    private protected string Store => At("store");

    private protected string At(string name) => Path.Combine(Folder, name);

    private protected Task<Typed.Ending> Run(params string[] arguments) => Typed.Run([.. arguments, "--store", Store]);

    /// <summary>The bench by question and answer.</summary>
    /// <param name="answers">Words to choose, arguments, options and further answers, parted by a bar; <c>@</c> stands for the folder.</param>
    /// <param name="store">Name of the store's folder.</param>
    private protected Task<Typed.Ending> Answered(string answers, string store = "store") =>
        Typed.RunWith(string.Join('\n', answers.Split('|').Select(answer => answer.Replace("@", Folder, StringComparison.Ordinal))) + "\n", "--plain", "--store", At(store));
}
