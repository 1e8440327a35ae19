using Commission.App;

return await Composition.RunAsync(args).ConfigureAwait(false);
